import { describe, expect, it } from 'vitest';
import { fieldsHelp } from '../../src/cli/fields-help.ts';
import { jsonSchemaOf } from '../../src/compute/json-schema.ts';
import deposit from '../../src/compute/tasks/deposit.ts';

describe('the help on fields', () => {
  const help = fieldsHelp(jsonSchemaOf(deposit.request)).replace(/\s+/g, ' ');

  it('names the kinds of a choice and whose each field is', () => {
    expect(help).toContain('motion.kind "fixed" or "rotating" or "dome" or "planetary"; required');
    expect(help).toContain('motion.heightMm fixed, rotating, planetary: number');
    expect(help).toContain('motion.radiusMm dome: number');
  });

  it('says of a list what its entries are, with their unit', () => {
    expect(help).toContain(
      "points list of numbers, 0 to 10000; required; distance from the rack's own axis, in mm",
    );
  });
});
