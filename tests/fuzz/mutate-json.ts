import type { Random } from '../../src/math/random.ts';

/** Values that readers are seldom shown: each is legal JSON, few are legal anywhere. */
const ODD_VALUES: readonly (() => unknown)[] = [
  () => null,
  () => true,
  () => 0,
  () => -1,
  () => -0,
  () => 0.5,
  () => 1e-320,
  () => 1e308,
  () => -1e308,
  () => 2 ** 53,
  () => 'NaN',
  () => '1,5',
  () => '',
  () => ' ',
  () => '<img src=x onerror=alert(1)>',
  () => '=1+1',
  () => '../../etc/passwd',
  () => '\u0000',
  () => '\u202Egnp.exe',
  () => '\uD83D',
  () => 'a\u0301'.repeat(200),
  () => 'x'.repeat(100_000),
  () => [],
  () => ({}),
  () => [[[]]],
  () => nested(400),
  () => Array(20_000).fill(0),
  () => Array(2_000).fill('x'),
  () => ({ from: 0, to: 1e9, step: 1e-9 }),
];

/** Names that no format has, the dangerous ones among them. */
const ODD_KEYS = ['__proto__', 'constructor', 'toString', 'hasOwnProperty', '', ' ', 'ﬁeld', '0', 'length'];

type Place = { readonly holder: Record<string, unknown>; readonly key: string };

/** A copy of `value` with one to four changes at random places: fields lost, renamed, doubled, swapped or odd. */
export function mutateJson(value: unknown, random: Random): unknown {
  const root = { root: structuredClone(value) };
  const changes = 1 + Math.floor(4 * random.uniform() ** 2);
  for (let i = 0; i < changes; i++) changeOne(root, random);
  return root.root;
}

function changeOne(root: Record<string, unknown>, random: Random): void {
  const places = placesOf(root);
  const { holder, key } = pick(places, random);
  const value = holder[key];
  const put = (next: unknown) => define(holder, key, next);
  const change = pick(
    [
      () => put(pick(ODD_VALUES, random)()),
      () => put(typeof value === 'number' ? value * 10 ** Math.round(12 * random.uniform() - 6) : value),
      () => put(typeof value === 'number' ? -value : JSON.stringify(value)),
      () => (Array.isArray(value) ? put(value.slice(1)) : put([value])),
      () => put(structuredClone(valueAt(pick(places, random)))),
      () => {
        if (holder !== root) Reflect.deleteProperty(holder, key);
      },
      () => {
        if (typeof value !== 'object' || value === null) return;
        if (!Array.isArray(value)) define(value, pick(ODD_KEYS, random), pick(ODD_VALUES, random)());
      },
      () => {
        if (Array.isArray(value) && value.length > 0)
          for (let i = 0; i < 300; i++) value.push(structuredClone(value[0]));
      },
    ],
    random,
  );
  change();
}

/** Every field and every entry below `root`, itself not counted. */
function placesOf(root: Record<string, unknown>): Place[] {
  const places: Place[] = [];
  const waiting: object[] = [root];
  for (let holder = waiting.pop(); holder !== undefined && places.length < 3000; holder = waiting.pop())
    for (const [key, value] of Object.entries(holder)) {
      places.push({ holder: holder as Record<string, unknown>, key });
      if (typeof value === 'object' && value !== null) waiting.push(value);
    }
  return places;
}

function valueAt({ holder, key }: Place): unknown {
  return Object.getOwnPropertyDescriptor(holder, key)?.value;
}

/** Sets a field even where its name is `__proto__`. */
function define(holder: object, key: string, value: unknown): void {
  Object.defineProperty(holder, key, { value, enumerable: true, writable: true, configurable: true });
}

function nested(depth: number): unknown {
  let value: unknown = 0;
  for (let i = 0; i < depth; i++) value = [value];
  return value;
}

/** One entry of a list by chance. */
export function pick<Item>(items: readonly Item[], random: Random): Item {
  return items[random.integer(items.length)]!;
}
