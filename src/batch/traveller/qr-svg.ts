import { correction, generate } from 'lean-qr';
import { type Markup, markup } from '../../base/markup.ts';

/** Free modules around the code that a reader needs (ISO/IEC 18004, quiet zone). */
const QUIET_MODULES = 4;

/**
 * A QR code as a drawing of one path, `widthMm` wide with its quiet zone; a quarter of it may be soiled (level Q at
 * least).
 */
export function qrSvg(text: string, widthMm: number, label: string): Markup {
  const code = generate(text, { minCorrectionLevel: correction.Q });
  const size = code.size + 2 * QUIET_MODULES;
  const runs: string[] = [];
  for (let y = 0; y < code.size; y++)
    for (let x = 0; x < code.size; x++) {
      if (!code.get(x, y)) continue;
      const from = x;
      while (code.get(x + 1, y)) x++;
      runs.push(`M${from + QUIET_MODULES} ${y + QUIET_MODULES}h${x + 1 - from}v1h${from - x - 1}z`);
    }
  return markup`<svg class="code" viewBox="0 0 ${size} ${size}" style="width:${widthMm}mm;height:${widthMm}mm" shape-rendering="crispEdges" role="img" aria-label="${label}"><path class="back" d="M0 0h${size}v${size}h${-size}z" /><path d="${runs.join('')}" /></svg>`;
}
