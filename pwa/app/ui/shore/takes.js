// What of taking comes behind the first load.

export { AskPage } from './ask-page.js';
export { KindNotes } from './kind-notes.js';
export { SlateLimits } from './slate-limits.js';
export { Tally } from './tally.js';
export { VerdictPanel } from './verdict-panel.js';
