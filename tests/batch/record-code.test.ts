import jsQrModule from 'jsqr';
import { describe, expect, it } from 'vitest';
import { parseRoute } from '../../src/app/routes.ts';
import { codeText, type RecordCode, readCode, serialOf } from '../../src/batch/record-code.ts';
import { qrSvg } from '../../src/batch/traveller/qr-svg.ts';

// The package is CommonJS: its function is the module, or the module's default, as the bundler likes.
const readQr = ('default' in jsQrModule ? jsQrModule.default : jsQrModule) as typeof jsQrModule;

const CODES: RecordCode[] = [
  { batchId: 'eyepiece-field-lens' },
  { batchId: 'eyepiece-field-lens', runId: 'run-12', sheet: '9f2a90c177de0b45' },
  { batchId: 'A.b_c-9', runId: 'run-1' },
  { batchId: 'x'.repeat(64), runId: 'y'.repeat(64), sheet: '0123456789abcdef' },
];

/** The drawing as black and white pixels, `scale` to a module; it consists of bars "Mx yhWv1h-Wz" on white. */
function raster(svg: string, scale: number): { data: Uint8ClampedArray; size: number } {
  const modules = Number(/viewBox="0 0 (\d+)/.exec(svg)?.[1]);
  const size = modules * scale;
  const data = new Uint8ClampedArray(4 * size * size).fill(255);
  for (const [, x = '', y = '', width = ''] of svg.matchAll(/M(\d+) (\d+)h(\d+)v1h-\d+z/g))
    for (let row = Number(y) * scale; row < (Number(y) + 1) * scale; row++)
      for (let column = Number(x) * scale; column < (Number(x) + Number(width)) * scale; column++)
        data.fill(0, 4 * (row * size + column), 4 * (row * size + column) + 3);
  return { data, size };
}

describe('the code of a printed page', () => {
  it.each(CODES)('is read by an independent decoder as what it was made from: %o', (code) => {
    const text = codeText(code);
    const { data, size } = raster(qrSvg(text, 27, 'code').toString(), 4);
    expect(readQr(data, size, size)?.data).toBe(text);
  });

  it.each(CODES)('leads to the record in the app, and is understood when a scanner types it: %o', (code) => {
    const { batchId, runId, sheet } = code;
    expect(parseRoute(codeText(code))).toEqual({
      page: 'station',
      batchId,
      station: 'inspect',
      ...(runId === undefined ? {} : { run: runId }),
      ...(sheet === undefined ? {} : { sheet }),
    });
    expect(readCode(` ${codeText(code)}\n`)).toEqual(code);
    expect(readCode(`http://127.0.0.1:4173/${codeText(code)}`)).toEqual(code);
  });

  it('is still read with a blot over its middle, a quarter of its width', () => {
    const { data, size } = raster(qrSvg(codeText(CODES[1]!), 27, 'code').toString(), 4);
    const [from, to] = [Math.round(0.375 * size), Math.round(0.625 * size)];
    for (let row = from; row < to; row++) data.fill(0, 4 * (row * size + from), 4 * (row * size + to));
    for (let i = 3; i < data.length; i += 4) data[i] = 255;
    expect(readQr(data, size, size)?.data).toBe(codeText(CODES[1]!));
  });
});

describe('a serial number', () => {
  it('names batch and run, and is read back', () => {
    const code = { batchId: 'eyepiece-field-lens', runId: 'run-3' };
    expect(serialOf(code)).toBe('eyepiece-field-lens/run-3');
    expect(readCode(serialOf(code))).toEqual(code);
  });

  it.each(['', 'crystal', 'crystal at 61 %', 'a/b/c', '#/materials/mgf2', '/run-1', '<b>/run-1'])(
    'is not seen in %j',
    (words) => {
      expect(readCode(words)).toBeUndefined();
    },
  );
});
