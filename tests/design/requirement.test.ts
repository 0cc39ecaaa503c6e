import { describe, expect, it } from 'vitest';
import { parse } from '../../src/base/schema.ts';
import { describeRequirement, requirement } from '../../src/design/requirement.ts';
import { REQUIREMENT_TEMPLATES } from '../../src/design/requirement-templates.ts';

const plain = { quantity: 'R', statistic: 'mean', limit: 0.4, bandNm: [430, 670] };

describe('requirement', () => {
  it('fills its defaults in: below for R and A, above for T, normal incidence, unpolarized, weight 1', () => {
    expect(parse(requirement, plain)).toEqual({
      ...plain,
      sense: 'below',
      incidenceDeg: [0],
      polarization: 'mean',
      weight: 1,
    });
    expect(parse(requirement, { ...plain, quantity: 'A' }).sense).toBe('below');
    expect(parse(requirement, { ...plain, quantity: 'T' }).sense).toBe('above');
    expect(parse(requirement, { ...plain, sense: 'above' }).sense).toBe('above');
  });

  it('says in one clause what is wrong', () => {
    const fault = (change: object) => () => parse(requirement, { ...plain, ...change });
    expect(fault({ limit: 140 })).toThrow('limit: 140 % is above 100 %');
    expect(fault({ limit: -1 })).toThrow('limit: -1 % is below 0 %');
    expect(fault({ bandNm: [670, 430] })).toThrow(
      'bandNm: the band begins at 670 nm, above its end at 430 nm',
    );
    expect(fault({ bandNm: [430] })).toThrow('bandNm');
    expect(fault({ incidenceDeg: [90] })).toThrow('incidenceDeg[0]: 90 ° is not below 90 °');
    expect(fault({ incidenceDeg: [] })).toThrow('incidenceDeg: the list has no entries; it needs at least 1');
    expect(fault({ statistic: 'median' })).toThrow('"median" is not one of "mean", "max", "min"');
    expect(fault({ colour: 'red' })).toThrow('colour: unknown field "colour"');
    expect(fault({ weight: 0 })).toThrow('weight: 0 is not above 0');
  });

  it('reads as a short line', () => {
    const line = (change: object) => describeRequirement(parse(requirement, { ...plain, ...change }));
    expect(line({ incidenceDeg: [0, 25] })).toBe('R mean ≤ 0.4 %, 430–670 nm, 0° and 25°');
    expect(line({ incidenceDeg: [0, 15, 30] })).toBe('R mean ≤ 0.4 %, 430–670 nm, 0°, 15° and 30°');
    expect(line({ quantity: 'T', statistic: 'min', limit: 99, polarization: 's' })).toBe(
      'T min ≥ 99 %, 430–670 nm, 0°, s polarized',
    );
    expect(line({ statistic: 'max', bandNm: [532, 532] })).toBe('R ≤ 0.4 %, 532 nm, 0°');
  });
});

describe('requirement templates', () => {
  it('all pass the schema unchanged and have names of their own', () => {
    for (const template of REQUIREMENT_TEMPLATES) {
      expect(template.requirements.length).toBeGreaterThan(0);
      for (const item of template.requirements) expect(parse(requirement, item)).toEqual(item);
    }
    expect(new Set(REQUIREMENT_TEMPLATES.map(({ id }) => id)).size).toBe(REQUIREMENT_TEMPLATES.length);
  });
});
