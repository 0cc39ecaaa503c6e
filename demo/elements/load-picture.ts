import '../../src/elements/load-picture/cw-load-picture.ts';

export default {
  tag: 'cw-load-picture',
  says: 'The load from above, to scale. Point at a place, or use the arrow keys; Enter picks it.',
  listens: ['cw-part-select'],
  code: `
const ring = (count, radius) => Array.from({ length: count }, (_, i) => ({
  xMm: radius * Math.cos((2 * Math.PI * i) / count), yMm: radius * Math.sin((2 * Math.PI * i) / count) }));
const places = [...ring(1, 0), ...ring(6, 38), ...ring(12, 75), ...ring(18, 112)];
const rack = (number, angle) => ({
  id: 'rack-' + number, label: 'Rack ' + number, diameterMm: 290, rimMm: 12,
  xMm: 330 * Math.cos(angle), yMm: 330 * Math.sin(angle),
  parts: places.map((place, i) => ({ ...place, id: number + '-' + i, label: 'place ' + (i + 1), diameterMm: 34,
    role: i === 0 ? 'witness' : 'part',
    value: 100 + 1.4 * (1 - (Math.hypot(place.xMm, place.yMm) / 80) ** 2) + 0.2 * Math.sin(i),
    verdict: Math.hypot(place.xMm, place.yMm) > 100 && i % 4 === 0 ? 'missed' : 'met' })),
});
element.scene = {
  chamberDiameterMm: 1100, carrierRadiusMm: 330,
  racks: [0, 1, 2, 3, 4].map((i) => rack(i + 1, Math.PI / 2 + (2 * Math.PI * i) / 5)),
  fixed: [
    { id: 's1', label: 'Source 1', kind: 'source', xMm: 150, yMm: -80, diameterMm: 70 },
    { id: 's2', label: 'Source 2', kind: 'source', xMm: -150, yMm: -80, diameterMm: 70 },
    { id: 'w', label: 'Witness', kind: 'witness', xMm: 0, yMm: 0, diameterMm: 50 },
    { id: 'q', label: 'Crystal', kind: 'crystal', xMm: 0, yMm: 70, diameterMm: 26 },
  ],
};
element.scale = { label: 'Thickness', unit: '% of the aim', middle: 100, reach: 2 };
element.turning = true;`,
};
