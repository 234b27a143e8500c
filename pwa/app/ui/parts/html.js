// Markup as tagged templates, so that what the browser runs is what stands here.

import { h } from 'preact';
import htm from 'htm';

export const html = htm.bind(h);
