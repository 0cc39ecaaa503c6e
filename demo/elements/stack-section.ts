import '../../src/elements/stack-section/cw-stack-section.ts';

export default {
  tag: 'cw-stack-section',
  says: 'The stack to scale. Drag a boundary, or focus a label and use the arrow keys.',
  listens: ['cw-layer-thickness-input', 'cw-layer-thickness-change', 'cw-layer-select'],
  code: `
element.substrate = 'glass 517642';
element.selected = 1;
element.previousNm = [80, 121, 12, 110, 94];
element.layers = [
  { material: 'Al₂O₃', thicknessNm: 78.4, index: 1.63, sensitivity: 0.35 },
  { material: 'Ta₂O₅', thicknessNm: 118.2, index: 2.1, sensitivity: 1 },
  { material: 'SiO₂', thicknessNm: 12.6, index: 1.46, sensitivity: 0.1 },
  { material: 'TiO₂', thicknessNm: 106, index: 2.3, sensitivity: 0.6, locked: true },
  { material: 'MgF₂', thicknessNm: 93.6, index: 1.38, sensitivity: 0.8 },
];`,
};
