import { type JsonSchema, toJsonSchema } from '@valibot/to-json-schema';
import type * as v from 'valibot';
import type { FieldNote } from '../base/schema.ts';

/** What the helpers of base/schema.ts note about a field. */
interface Noted extends FieldNote {
  readonly shapes?: readonly v.GenericSchema[];
}

/**
 * The JSON Schema (draft 2020-12) of what a valibot schema accepts: limits and notes of the fields included,
 * each choice of shapes as one definition with `anyOf`.
 */
export function jsonSchemaOf(schema: v.GenericSchema): JsonSchema {
  const names = new Map<readonly v.GenericSchema[], string>();
  const definitions: Record<string, JsonSchema> = {};

  const convert = (part: v.GenericSchema): JsonSchema => {
    const { $schema, $defs, ...rest } = toJsonSchema(part, {
      target: 'draft-2020-12',
      typeMode: 'input',
      errorMode: 'ignore', // checks and transformations have no words in JSON Schema
      overrideAction: ({ valibotAction, jsonSchema }) =>
        valibotAction.type === 'metadata'
          ? noted(jsonSchema, (valibotAction as unknown as { metadata: Noted }).metadata)
          : undefined,
    });
    return rest;
  };

  const noted = (jsonSchema: JsonSchema, { shapes, unit, limits, note }: Noted): JsonSchema => {
    const { shapes: _, unit: __, limits: ___, note: ____, ...rest } = jsonSchema as Record<string, unknown>;
    const described: JsonSchema = shapes === undefined ? rest : { $ref: referenceTo(shapes) };
    const words = [note ?? rest.description, unit ? `in ${unit}` : undefined].filter(Boolean).join(', ');
    if (words !== '') described.description = words;
    const counted = rest.type === 'array';
    if (limits?.min !== undefined) described[counted ? 'minItems' : 'minimum'] = limits.min;
    if (limits?.max !== undefined) described[counted ? 'maxItems' : 'maximum'] = limits.max;
    if (limits?.above !== undefined) described.exclusiveMinimum = limits.above;
    if (limits?.below !== undefined) described.exclusiveMaximum = limits.below;
    return described;
  };

  const referenceTo = (shapes: readonly v.GenericSchema[]): string => {
    let name = names.get(shapes);
    if (name === undefined) {
      name = `choice${names.size + 1}`;
      names.set(shapes, name); // before its shapes are converted: they may refer back to it
      definitions[name] = { anyOf: shapes.map(convert) };
    }
    return `#/$defs/${name}`;
  };

  const whole = convert(schema);
  return {
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    ...whole,
    ...(names.size === 0 ? {} : { $defs: definitions }),
  };
}
