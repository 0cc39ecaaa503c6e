import '../../src/elements/colour-patch/cw-colour-patch.ts';

export default {
  tag: 'cw-colour-patch',
  says: 'The colour that the coated lens shows; the rim is the colour before the last edit.',
  listens: [],
  code: `
element.colour = '#3b2f6d';
element.previous = '#2c3a63';
element.label = 'Residual colour, D65, 0°';
element.detail = 'L* 23, a* 20, b* −33';`,
};
