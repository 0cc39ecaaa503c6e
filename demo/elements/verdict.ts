import '../../src/elements/verdict/cw-verdict.ts';

export default {
  tag: 'cw-verdict',
  says: 'Met or missed, by sign, word and colour.',
  listens: [],
  code: `
element.verdict = 'missed';
element.textContent = '0.43 % at 432 nm, 0.40 % wanted';`,
};
