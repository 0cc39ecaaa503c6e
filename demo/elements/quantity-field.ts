import '../../src/elements/quantity-field/cw-quantity-field.ts';

export default {
  tag: 'cw-quantity-field',
  says: 'A number with a unit. Try 0.12 um, 920 Å, 92,1 or −3.',
  listens: ['cw-quantity-input', 'cw-quantity-change'],
  code: `
element.label = 'Thickness';
element.value = 92.1;
element.unit = 'nm';
element.min = 0;
element.max = 2000;`,
};
