/** The traveller's look: black on white, A4 or Letter, lot and page on every sheet, no row cut in two. */
export const TRAVELLER_CSS = `
@page { size: A4; margin: 16mm 14mm 18mm; }
.traveller { color: #111; background: #fff; font: 9.5pt/1.38 "Segoe UI", "Helvetica Neue", "Noto Sans", "DejaVu Sans", Arial, sans-serif; font-variant-numeric: tabular-nums; max-width: 182mm; margin: 0 auto; }
.traveller * { box-sizing: border-box; }
.traveller h1 { font: 600 19pt/1.15 Georgia, "Noto Serif", "DejaVu Serif", serif; margin: 0 0 1mm; }
.traveller h2 { font: 600 12.5pt/1.2 Georgia, "Noto Serif", "DejaVu Serif", serif; margin: 7mm 0 2mm; padding-bottom: 1mm; border-bottom: 0.5pt solid #111; break-after: avoid; }
.traveller h3 { font-size: 10pt; margin: 4mm 0 1.5mm; break-after: avoid; }
.traveller p { margin: 0 0 1.5mm; }
.traveller header { display: flex; justify-content: space-between; gap: 8mm; border-bottom: 1.6pt solid #111; padding-bottom: 3mm; }
.traveller header > div { overflow-wrap: anywhere; }
.traveller header > div:first-child { flex: 1 1 0; }
.traveller header .lot { text-align: right; min-width: 36mm; max-width: 64mm; }
.traveller header .lot b { display: block; font-size: 14pt; }
.traveller .drawing { font-style: italic; }
.traveller table { border-collapse: collapse; width: 100%; }
.traveller thead { display: table-header-group; }
.traveller tr { break-inside: avoid; }
.traveller th, .traveller td { padding: 1.1mm 1.6mm; border-bottom: 0.35pt solid #999; text-align: left; vertical-align: top; }
.traveller th { font-weight: 600; border-bottom: 0.7pt solid #111; vertical-align: bottom; }
.traveller .n { text-align: right; white-space: nowrap; }
.traveller .tick { width: 6mm; }
.traveller td.tick::before { content: ""; display: inline-block; width: 3.4mm; height: 3.4mm; border: 0.7pt solid #111; vertical-align: -0.4mm; }
.traveller .blank { min-width: 20mm; }
.traveller .pair { display: grid; grid-template-columns: 1fr 74mm; gap: 7mm; align-items: start; break-inside: avoid; }
.traveller .pair .rack { justify-self: end; }
.traveller dl { display: grid; grid-template-columns: max-content 1fr; gap: 0.6mm 4mm; margin: 0; }
.traveller dt { color: #444; }
.traveller dd { margin: 0; overflow-wrap: anywhere; }
.traveller .rack .rim { fill: none; stroke: #111; stroke-width: 1; }
.traveller .rack .lens { fill: #fff; stroke: #111; stroke-width: 0.7; }
.traveller .rack .witness { fill: #ccc; stroke: #111; stroke-width: 0.7; }
.traveller .rack text { text-anchor: middle; font-size: 1em; }
.traveller .met::before { content: "met "; font-weight: 600; }
.traveller .missed::before { content: "MISSED "; font-weight: 700; }
.traveller .warnings { border: 1pt solid #111; padding: 2mm 3mm; margin-top: 4mm; break-inside: avoid; }
.traveller .cautions li { margin-bottom: 0.8mm; break-inside: avoid; }
.traveller .cautions { margin: 0; padding-left: 5mm; font-size: 8.8pt; }
.traveller .day { white-space: nowrap; }
.traveller .readings td { height: 7.5mm; }
.traveller .sign { display: grid; grid-template-columns: repeat(3, 1fr); gap: 8mm; margin-top: 12mm; break-inside: avoid; }
.traveller .sign div { border-top: 0.7pt solid #111; padding-top: 1mm; }
.traveller .side { break-before: page; }
.traveller footer { margin-top: 6mm; color: #444; font-size: 8pt; }
@media screen { .traveller { padding: 10mm 0; } }
@media screen and (max-width: 700px) { .traveller { padding: 4mm; } .traveller .pair, .traveller .sign { grid-template-columns: 1fr; } .traveller .scroll { overflow-x: auto; } }
`;
