/**
 * A JSON text that is the same for equal values whoever writes it: no spaces, the keys of every object in the order of
 * their UTF-16 code units, numbers and strings as ECMAScript writes them (RFC 8785, JSON Canonicalization Scheme).
 * Fields that are `undefined` are left out, as in `JSON.stringify`.
 */
export function canonicalJson(value: unknown): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null';
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
  const fields = Object.entries(value)
    .filter(([, part]) => part !== undefined)
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([key, part]) => `${JSON.stringify(key)}:${canonicalJson(part)}`);
  return `{${fields.join(',')}}`;
}
