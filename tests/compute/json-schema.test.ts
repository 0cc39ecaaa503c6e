import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { count, list, quantity } from '../../src/base/schema.ts';
import { wavelengthGrid } from '../../src/compute/grid.ts';
import { jsonSchemaOf } from '../../src/compute/json-schema.ts';
import { stackFields } from '../../src/compute/shapes.ts';

describe('the JSON Schema of a request', () => {
  it('carries the limits, units and notes of the fields', () => {
    const schema = jsonSchemaOf(
      v.strictObject({
        lengthMm: quantity('mm', { above: 0, max: 10 }, 'a length'),
        parts: v.optional(list(count({ min: 1 }), { min: 1, max: 3 }), [1]),
      }),
    );
    expect(schema).toEqual({
      $schema: 'https://json-schema.org/draft/2020-12/schema',
      type: 'object',
      properties: {
        lengthMm: { type: 'number', description: 'a length, in mm', exclusiveMinimum: 0, maximum: 10 },
        parts: {
          type: 'array',
          items: { type: 'number', minimum: 1 },
          minItems: 1,
          maxItems: 3,
          default: [1],
        },
      },
      required: ['lengthMm'],
      additionalProperties: false,
    });
  });

  it('says each choice of shapes once and refers to it', () => {
    const schema = jsonSchemaOf(v.strictObject({ ...stackFields, wavelengthNm: wavelengthGrid }));
    const { incident, substrate, wavelengthNm } = schema.properties as Record<string, { $ref?: string }>;
    expect(incident?.$ref).toBe('#/$defs/choice1');
    expect(substrate?.$ref).toBe(incident?.$ref);
    const names = Object.keys(schema.$defs ?? {});
    expect(names.map((name) => `#/$defs/${name}`)).toContain(wavelengthNm?.$ref);
    expect(wavelengthNm?.$ref).not.toBe(incident?.$ref);
    const indexShapes = schema.$defs?.choice1;
    expect(typeof indexShapes === 'object' && indexShapes.anyOf?.length).toBeGreaterThanOrEqual(5);
  });
});
