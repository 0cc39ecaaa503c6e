import '../../src/elements/chamber-side/cw-chamber-side.ts';

export default {
  tag: 'cw-chamber-side',
  says: 'The chamber from the side. Drag a source, a mask, the height of the load or the tilt of its racks.',
  listens: ['cw-chamber-move-input', 'cw-chamber-move'],
  code: `
element.scene = {
  widthMm: 1100, heightMm: 1000, floorMm: 150,
  sources: [
    { id: 'e', label: 'Electron-beam source', offsetMm: 150, exponent: 2 },
    { id: 'b', label: 'Boat', offsetMm: -150, exponent: 1 },
  ],
  surface: { kind: 'planetary', carrierRadiusMm: 330, heightMm: 620, tiltDeg: 15, rackDiameterMm: 290 },
  masks: [{ id: 'm', label: 'Mask', offsetMm: 300, heightMm: 480, lengthMm: 90 }],
  fixed: [
    { id: 'w', label: 'Witness', kind: 'witness', offsetMm: 0, heightMm: 690 },
    { id: 'q', label: 'Crystal', kind: 'crystal', offsetMm: 70, heightMm: 680 },
  ],
};`,
};
