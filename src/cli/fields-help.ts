import type { JsonSchema } from '@valibot/to-json-schema';

const LINE_WIDTH = 100;
const NAME_WIDTH = 30;

/** The fields of an object's JSON Schema as lines of text: name, type with limits, need or default, note. */
export function fieldsHelp(schema: JsonSchema): string {
  const definitions = schema.$defs ?? {};
  const resolve: Resolve = ({ $ref = '' }) => {
    const found = definitions[$ref.replace('#/$defs/', '')];
    return typeof found === 'object' ? found : {};
  };
  return objectLines(schema, '', resolve).join('\n');
}

/** The definition that a part refers to. */
type Resolve = (part: JsonSchema) => JsonSchema;

function objectLines(schema: JsonSchema, prefix: string, resolve: Resolve): string[] {
  const required = schema.required ?? [];
  return Object.entries(schema.properties ?? {}).flatMap(([key, part]) => {
    if (typeof part === 'boolean') return [];
    return fieldLines(`${prefix}${key}`, part, required.includes(key), resolve);
  });
}

function fieldLines(name: string, part: JsonSchema, isRequired: boolean, resolve: Resolve): string[] {
  const need = needOf(part, isRequired);
  const words = [typeWords(part, resolve), need, noteOf(part)].filter(Boolean).join('; ');
  return [...entry(name, words), ...innerLines(name, part, resolve)];
}

function needOf(part: JsonSchema, isRequired: boolean): string {
  if (part.default !== undefined) return `default ${JSON.stringify(part.default)}`;
  return isRequired ? 'required' : 'optional';
}

function innerLines(name: string, part: JsonSchema, resolve: Resolve): string[] {
  if (part.type === 'object') return objectLines(part, `${name}.`, resolve);
  const kinds = kindsOf(part, resolve);
  if (kinds.length > 0) return kindLines(name, kinds, resolve);
  const { items } = part;
  if (typeof items !== 'object' || Array.isArray(items)) return [];
  return items.type === 'object' ? objectLines(items, `${name}[].`, resolve) : [];
}

/** The objects of a choice that a fixed word in one of their fields tells apart, such as `kind`. */
function kindsOf(part: JsonSchema, resolve: Resolve): JsonSchema[] {
  const { anyOf = [] } = part.$ref === undefined ? part : resolve(part);
  return anyOf
    .filter((branch) => typeof branch === 'object')
    .filter((branch) => fixedWord(branch) !== undefined);
}

function fixedWord({ properties = {} }: JsonSchema): string | undefined {
  const found = Object.values(properties).find(
    (field) => typeof field === 'object' && field.const !== undefined,
  );
  return typeof found === 'object' ? String(found.const) : undefined;
}

/** Each field once, with the kinds that have it where not all do. */
function kindLines(name: string, kinds: readonly JsonSchema[], resolve: Resolve): string[] {
  const keys = [...new Set(kinds.flatMap(({ properties }) => Object.keys(properties ?? {})))];
  return keys.flatMap((key) => {
    const having = kinds.filter(({ properties }) => properties?.[key] !== undefined);
    const parts = having
      .map(({ properties }) => properties![key]!)
      .filter((part) => typeof part === 'object');
    const [first] = parts;
    if (first === undefined) return [];
    if (first.const !== undefined)
      return entry(
        `${name}.${key}`,
        `${parts.map((part) => JSON.stringify(part.const)).join(' or ')}; required`,
      );
    const isRequired = having.every(({ required = [] }) => required.includes(key));
    const whose =
      having.length === kinds.length ? '' : `${having.map((kind) => fixedWord(kind)).join(', ')}: `;
    const words = [`${whose}${typeWords(first, resolve)}`, needOf(first, isRequired), noteOf(first)];
    return entry(`${name}.${key}`, words.filter(Boolean).join('; '));
  });
}

/** What is said of a field; of a list without words of its own, what is said of its entries. */
function noteOf({ description, items }: JsonSchema): string | undefined {
  if (description !== undefined) return description;
  return typeof items === 'object' && !Array.isArray(items) && items.type !== 'object'
    ? items.description
    : undefined;
}

/** A type in a few words: `number, 0 to 90`, `list of text`, `{n, k}`. */
function typeWords(part: JsonSchema, resolve: Resolve): string {
  if (part.$ref !== undefined) return typeWords(resolve(part), resolve);
  const branches = part.anyOf ?? part.oneOf;
  if (branches !== undefined)
    return branches
      .map((branch) => (typeof branch === 'boolean' ? 'any' : typeWords(branch, resolve)))
      .join(' or ');
  if (part.enum !== undefined) return part.enum.map((word) => JSON.stringify(word)).join(' or ');
  if (part.const !== undefined) return JSON.stringify(part.const);
  switch (part.type) {
    case 'number':
    case 'integer':
      return `number${limitWords(part)}`;
    case 'string':
      return 'text';
    case 'boolean':
      return 'true or false';
    case 'array':
      return listWords(part, resolve);
    case 'object':
      return objectWords(part);
    default:
      return 'any';
  }
}

function listWords(part: JsonSchema, resolve: Resolve): string {
  const { items, prefixItems } = part;
  const tuple = prefixItems ?? (Array.isArray(items) ? items : undefined);
  if (tuple !== undefined) return `list of ${tuple.length}`;
  if (typeof items !== 'object' || Array.isArray(items)) return 'list';
  const item = typeWords(items, resolve);
  return items.type === 'object' ? 'list of objects' : `list of ${item.replace(/^number/, 'numbers')}`;
}

function objectWords({ properties, required = [] }: JsonSchema): string {
  const keys = Object.keys(properties ?? {});
  return `{${keys.map((key) => (required.includes(key) ? key : `${key}?`)).join(', ')}}`;
}

function limitWords({ minimum, maximum, exclusiveMinimum, exclusiveMaximum }: JsonSchema): string {
  const low = minimum ?? exclusiveMinimum;
  const high = maximum ?? exclusiveMaximum;
  if (low !== undefined && high !== undefined) {
    const above = minimum === undefined ? 'above ' : '';
    const below = maximum === undefined ? 'below ' : '';
    return `, ${above}${low} to ${below}${high}`;
  }
  if (low !== undefined) return minimum === undefined ? ` above ${low}` : `, at least ${low}`;
  if (high !== undefined) return maximum === undefined ? ` below ${high}` : `, at most ${high}`;
  return '';
}

/** A name and what is said of it, broken into lines that hang below each other. */
function entry(name: string, words: string): string[] {
  const indent = ' '.repeat(NAME_WIDTH + 4);
  const lines: string[] = [];
  let line = `  ${name.padEnd(NAME_WIDTH)}  `;
  if (name.length > NAME_WIDTH) {
    lines.push(line.trimEnd());
    line = indent;
  }
  let isEmpty = true;
  for (const word of words.split(' ')) {
    if (!isEmpty && line.length + 1 + word.length > LINE_WIDTH) {
      lines.push(line);
      line = indent;
      isEmpty = true;
    }
    line += isEmpty ? word : ` ${word}`;
    isEmpty = false;
  }
  return [...lines, line];
}
