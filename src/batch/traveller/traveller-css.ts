/** The look of the shop's papers: black on white, within A4 and Letter, no row cut in two. */
export const TRAVELLER_CSS = `
.traveller { color: #111; background: #fff; font: 9pt/1.34 "Segoe UI", "Helvetica Neue", "Noto Sans", "DejaVu Sans", Arial, sans-serif; font-variant-numeric: tabular-nums; max-width: 182mm; margin: 0 auto; }
.traveller * { box-sizing: border-box; }
.traveller h1 { font: 600 19pt/1.15 Georgia, "Noto Serif", "DejaVu Serif", serif; margin: 0 0 1mm; }
.traveller h2 { font: 600 12.5pt/1.2 Georgia, "Noto Serif", "DejaVu Serif", serif; margin: 5mm 0 2mm; padding-bottom: 0.8mm; border-bottom: 0.5pt solid #111; break-after: avoid; }
.traveller h3 { font-size: 9.4pt; margin: 2.6mm 0 0.8mm; break-after: avoid; }
.traveller p { margin: 0 0 1.2mm; orphans: 3; widows: 3; }
.traveller header { display: flex; justify-content: space-between; gap: 6mm; border-bottom: 1.6pt solid #111; padding-bottom: 2mm; }
.traveller header > div { overflow-wrap: anywhere; }
.traveller header > div:first-child { flex: 1 1 0; }
.traveller header .lot { text-align: right; min-width: 36mm; max-width: 64mm; }
.traveller header .lot b { display: block; font-size: 14pt; }
.traveller .code { display: block; }
.traveller .code path { fill: #000; }
.traveller .code .back { fill: var(--cw-lamp, #ffffff); }
.traveller .drawing { font-style: italic; }
.traveller .small { font-size: 8pt; }
.traveller table { border-collapse: collapse; width: 100%; }
.traveller thead { display: table-header-group; }
.traveller tr { break-inside: avoid; }
.traveller th, .traveller td { padding: 0.75mm 1.2mm; border-bottom: 0.35pt solid #999; text-align: left; vertical-align: top; }
.traveller th, .traveller thead td { font-weight: 600; border-bottom: 0.7pt solid #111; vertical-align: bottom; }
.traveller td[scope], .traveller tbody th { border-bottom: 0.35pt solid #999; font-weight: 400; }
.traveller .dense { font-size: 8.2pt; }
.traveller .dense th, .traveller .dense td { padding: 0.5mm 1mm; line-height: 1.25; }
.traveller .n { text-align: right; white-space: nowrap; }
.traveller .k { white-space: nowrap; }
.traveller thead .n { white-space: normal; }
.traveller .tick { width: 6mm; }
.traveller td.tick::before { content: ""; display: inline-block; width: 2.7mm; height: 2.7mm; border: 0.7pt solid #111; vertical-align: -0.35mm; }
.traveller .blank { min-width: 19mm; }
.traveller .pair { display: grid; grid-template-columns: 1fr auto; gap: 6mm; align-items: start; break-inside: avoid; }
.traveller dl { display: grid; grid-template-columns: max-content 1fr; gap: 0.5mm 4mm; margin: 0; align-content: start; }
.traveller dt { color: #444; }
.traveller dd { margin: 0; overflow-wrap: anywhere; }
.traveller .rack .rim { fill: none; stroke: #111; stroke-width: 1; }
.traveller .rack .lens { fill: #fff; stroke: #111; stroke-width: 0.7; }
.traveller .rack .witness { fill: #ccc; stroke: #111; stroke-width: 0.7; }
.traveller .rack text { text-anchor: middle; font-size: 1em; fill: #111; }
.traveller .plot { display: block; overflow: visible; }
.traveller .plot path { fill: none; stroke: #111; stroke-width: 0.3; }
.traveller .plot text { font-size: 2.7px; fill: #111; }
.traveller .plot circle { fill: #111; }
.traveller .plot .grid { stroke: #ccc; stroke-width: 0.15; }
.traveller .plot .wrong { stroke: #999; stroke-width: 0.15; }
.traveller .plot .limit { stroke-width: 0.7; }
.traveller .plot .line { stroke-width: 0.4; }
.traveller .plot .dashed { stroke-dasharray: 1.6 1; stroke-width: 0.35; }
.traveller .plot .dots { stroke-width: 0.75; stroke-linecap: round; }
.traveller .traces { display: grid; grid-template-columns: repeat(5, minmax(0, 1fr)); gap: 1.2mm 2mm; }
.traveller .traces figure { margin: 0; break-inside: avoid; }
.traveller .traces figcaption { font-size: 7pt; }
.traveller.certificate h1 { font-size: 16pt; }
.traveller.certificate h2 { margin-top: 3.4mm; }
.traveller.certificate .sign { margin-top: 10mm; }
.traveller .chart { margin: 2mm 0 0; break-inside: avoid; }
.traveller .statement { margin: 3mm 0 0; padding: 1.6mm 3mm; border: 1pt solid #111; break-inside: avoid; }
.traveller .met::before { content: "met "; font-weight: 600; }
.traveller .missed::before { content: "MISSED "; font-weight: 700; }
.traveller .warnings { border: 1pt solid #111; padding: 1.6mm 3mm; margin-top: 3mm; font-size: 8.2pt; }
.traveller .warnings ul { margin: 0.6mm 0 0; padding-left: 4.5mm; }
.traveller .warnings li { break-inside: avoid; }
.traveller .cautions { margin: 0; padding-left: 5mm; font-size: 8pt; }
.traveller .cautions li { margin-bottom: 0.4mm; break-inside: avoid; }
.traveller .notes { margin: 1mm 0 0; padding: 0; list-style: none; font-size: 7.8pt; }
.traveller .notes li { display: inline; }
.traveller .day { white-space: nowrap; }
.traveller .readings { table-layout: fixed; }
.traveller .readings td { height: 6.4mm; }
.traveller .fill { display: flex; gap: 4mm; margin: 0 0 2mm; break-after: avoid; }
.traveller .fill span { flex: 1; border-bottom: 0.5pt solid #444; padding-bottom: 0.4mm; min-height: 6mm; align-content: end; }
.traveller .sign { display: grid; grid-template-columns: repeat(3, 1fr); gap: 8mm; margin-top: 11mm; break-inside: avoid; break-before: avoid; }
.traveller .sign div { border-top: 0.7pt solid #111; padding-top: 1mm; }
.traveller .side { break-before: page; }
.traveller .side > h2 { margin-top: 0; }
.traveller.cuts .side:first-of-type { break-before: auto; margin-top: 4mm; }
.traveller footer { margin-top: 4mm; color: #444; font-size: 8pt; break-inside: avoid; break-before: avoid; }
@media screen { .traveller { padding: 10mm 0; } }
@media screen and (max-width: 700px) { .traveller { padding: 4mm; } .traveller .pair, .traveller .sign { grid-template-columns: 1fr; } .traveller .traces { grid-template-columns: repeat(2, 1fr); } .traveller .fill, .traveller header { flex-wrap: wrap; } .traveller header > div:first-child { flex-basis: 100%; } .traveller .scroll { overflow-x: auto; } .traveller .readings { min-width: 34rem; } }
`;
