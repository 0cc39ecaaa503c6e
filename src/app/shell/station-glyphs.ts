import { type SVGTemplateResult, svg } from 'lit';
import type { Station } from '../routes.ts';

/** The lens as it stands at each station, seen from the side or from above; strokes take the text's colour. */
const GLYPHS: Readonly<Record<Station, SVGTemplateResult>> = {
  order: svg`<path d="M14 4q7 10 0 20q-7-10 0-20z"/><path d="M5 14h18" stroke-dasharray="2 2"/>`,
  stack: svg`<path d="M12 4q7 10 0 20q-7-10 0-20z"/><path class="coat" d="M13.8 4q7 10 0 20"/><path d="M16.6 4q7 10 0 20"/>`,
  load: svg`<circle cx="14" cy="14" r="10"/><circle class="coat" cx="14" cy="14" r="2.8"/><circle cx="14" cy="7.6" r="2.8"/><circle cx="19.6" cy="10.8" r="2.8"/><circle cx="19.6" cy="17.2" r="2.8"/><circle cx="14" cy="20.4" r="2.8"/><circle cx="8.4" cy="17.2" r="2.8"/><circle cx="8.4" cy="10.8" r="2.8"/>`,
  run: svg`<path d="M4 8q10-7 20 0q-10 3-20 0z"/><path class="coat" d="M14 24l-6-11M14 24v-11M14 24l6-11"/>`,
  monitor: svg`<path class="coat" d="M3 18q5.5-16 11 0t11 0"/><path d="M19.5 6v17" stroke-dasharray="2 2"/>`,
  inspect: svg`<path d="M10 4q7 10 0 20q-7-10 0-20z"/><path class="coat" d="M15 15l3.5 4L25 9"/>`,
};

/** The glyph of a station. */
export function stationGlyph(station: Station): SVGTemplateResult {
  return GLYPHS[station];
}
