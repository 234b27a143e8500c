// A QR code from its modules. Always dark on light, in dark rooms too, with four modules of
// light around (ISO/IEC 18004, 9.1): cameras need both.

import { html } from '../parts/html.js';
import { qrPath, QUIET } from './qr-path.js';

/** @param {{rows: string[], label: string}} props rows of 1 for dark */
export function QR({ rows, label }) {
  const side = rows.length + 2 * QUIET;
  return html`<svg class="qr" viewBox=${`0 0 ${side} ${side}`} role="img" aria-label=${label} shape-rendering="crispEdges">
    <rect width=${side} height=${side} fill="#fff" /><path d=${qrPath(rows)} fill="#000" />
  </svg>`;
}
