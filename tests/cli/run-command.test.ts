import { describe, expect, it } from 'vitest';
import { VERSION } from '../../src/base/version.ts';
import { runWith, SMALL_TASKS } from './support.ts';

const run = (words: readonly string[], io?: Parameters<typeof runWith>[2]) => runWith(SMALL_TASKS, words, io);

describe('the command', () => {
  it('answers a request from standard input, from - and from a file alike', async () => {
    const request = '{"lengthMm":3}';
    const answer = '{"halfMm":1.5,"list":[1.5],"warnings":[]}\n';
    const runs = [
      await run(['halve'], { stdin: request }),
      await run(['halve', '-'], { stdin: request }),
      await run(['halve', 'r.json'], { files: { 'r.json': request } }),
    ];
    for (const ran of runs) expect(ran).toEqual({ code: 0, out: answer, err: '', written: {} });
  });

  it('reads UTF-8 and UTF-16 with a byte order mark', async () => {
    const utf16 = Uint8Array.from([0xff, 0xfe, ...Buffer.from('{"lengthMm":3}', 'utf16le')]);
    expect((await run(['halve'], { stdin: utf16 })).code).toBe(0);
    expect((await run(['halve'], { stdin: '\ufeff{"lengthMm":3}' })).code).toBe(0);
  });

  it.each([
    ['{"lengthMm":-3}', 'lengthMm: -3 mm is below 0 mm'],
    ['{"lengthMm":"3"}', 'lengthMm: "3" is not a number'],
    ['{"lengthMm":1e999}', 'lengthMm: Infinity is not a finite number'],
    ['{"lengthMm":3,"width":2}', 'width: unknown field "width"'],
    ['{"lengthMm":3,"toString":2}', 'toString: unknown field "toString"'],
    ['{"lengthMm":3,"__proto__":{}}', '__proto__: unknown field "__proto__"'],
    ['{}', 'lengthMm: is missing'],
    ['[]', 'request: [] is not an object'],
    ['null', 'request: null is not an object'],
    ['', 'standard input: the request is empty; it must be one JSON object'],
    ['{"lengthMm":3,\n}', 'standard input: is not JSON: "}" is out of place (line 2, column 1)'],
    ['{"lengthMm":', 'standard input: is not JSON: it ends too early (line 1, column 13)'],
    ['{"lengthMm":NaN}', 'standard input: is not JSON: "N" is out of place (line 1, column 13)'],
    [
      `{"lengthMm":${'['.repeat(9000)}${']'.repeat(9000)}}`,
      'request: it is nested more than 100 levels deep',
    ],
    [Uint8Array.of(0x7b, 0xff, 0x7d), 'standard input: is not text in UTF-8'],
  ])('refuses the request %j with one line and nothing on standard output', async (stdin, fault) => {
    expect(await run(['halve'], { stdin })).toEqual({
      code: 1,
      out: '',
      err: `coatwright: ${fault}\n`,
      written: {},
    });
  });

  it('says which file it cannot read or write', async () => {
    const missing = await run(['halve', 'no.json']);
    expect(missing).toMatchObject({
      code: 1,
      err: 'coatwright: no.json: cannot be read: there is no such file or folder\n',
    });
    const locked = await run(['halve', '--html', '/locked/a.html'], { stdin: '{"lengthMm":3}' });
    expect(locked).toMatchObject({
      code: 1,
      out: '',
      err: 'coatwright: /locked/a.html: cannot be written: permission is denied\n',
    });
  });

  it.each([
    [[], 'no task is named; "coatwright --help" lists the tasks'],
    [['half'], 'unknown task "half"; the tasks are halve, broken'],
    [['constructor'], 'unknown task "constructor"; the tasks are halve, broken'],
    [['half', '--help'], 'unknown task "half"; the tasks are halve, broken'],
    [['halve', '--fast'], 'unknown option --fast; "coatwright --help" lists the options'],
    [['halve', '-x'], 'unknown option -x; "coatwright --help" lists the options'],
    [['halve', '--html'], 'option --html needs a value'],
    [['halve', '--html='], 'option --html needs a place to write to'],
    [['halve', '--progress=3'], 'option --progress takes no value'],
    [['halve', 'a', 'b'], '"b" is one word too many; a task takes one FILE'],
    [['broken', '--html', 'a'], 'the task "broken" has no option --html'],
    [['broken', '--csv', 'a'], 'the task "broken" has no option --csv'],
    [['broken', '--certificates', 'a'], 'the task "broken" has no option --certificates'],
  ])('refuses the words %j with exit code 2', async (words, fault) => {
    expect(await run(words, { stdin: '{}' })).toEqual({
      code: 2,
      out: '',
      err: `coatwright: ${fault}\n`,
      written: {},
    });
  });

  it('writes the papers of a task where it is told to', async () => {
    const ran = await run(['halve', '--html', 'a.html', '--csv', 'out', '--certificates', 'c'], {
      stdin: '{"lengthMm":3}',
    });
    expect(ran).toMatchObject({
      code: 0,
      written: { 'a.html': '<p>1.5</p>', 'out/half.csv': 'halfMm\n1.5\n', 'c/one.html': '<p>one</p>' },
    });
  });

  it('shows progress on standard error only where it is asked to', async () => {
    const shown = await run(['halve', '--progress'], { stdin: '{"lengthMm":3}' });
    expect(shown.err).toBe(' 50 % halving\n');
    expect(shown.out).toContain('1.5');
  });

  it.each(['nan', 'infinity', 'null', 'throw', 'lines'])(
    'prints no answer but one line without a stack where the program itself is wrong (%s)',
    async (how) => {
      const ran = await run(['broken'], { stdin: JSON.stringify({ how }) });
      expect(ran).toMatchObject({ code: 70, out: '' });
      expect(ran.err).toMatch(/^coatwright: fault of the program, please report it: .+\n$/);
    },
  );

  it('prints its version and its help', async () => {
    expect(await run(['--version'])).toMatchObject({ code: 0, out: `${VERSION}\n` });
    expect(VERSION).toMatch(/^\d+\.\d+\.\d+/);
    const { code, out } = await run(['--help']);
    expect(code).toBe(0);
    expect(out).toContain('halve   Half of a length');
  });

  it("prints a task's fields with limits, units and defaults, and an example that works", async () => {
    const { out } = await run(['halve', '--help']);
    expect(out).toMatch(/lengthMm +number, 0 to 10; required; the length to halve, in mm/);
    expect(out).toMatch(/round +"up" or "down" or "not"; default "not"/);
    expect(out).toContain(`printf '%s' '{"lengthMm":3}' | coatwright halve`);
  });
});
