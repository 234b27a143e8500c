// What of taking comes behind the first load.

export { VerdictPanel } from './verdict-panel.js';
