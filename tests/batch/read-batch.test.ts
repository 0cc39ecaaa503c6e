import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { InputError } from '../../src/base/errors.ts';
import { migrate } from '../../src/batch/migrate.ts';
import { newBatch } from '../../src/batch/new-batch.ts';
import { batchFrom, readBatch, writeBatch } from '../../src/batch/read-batch.ts';

const demos = readdirSync('demo').filter((file) => file.endsWith('.json'));
const demoText = (file: string) => readFileSync(`demo/${file}`, 'utf8');
const eyepiece = () => JSON.parse(demoText('eyepiece-field-lens.json'));

function faultOf(text: string): string {
  try {
    readBatch(text);
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  return 'no fault';
}

/** The eyepiece batch with one place changed, as the text of a file. */
function changed(change: (batch: ReturnType<typeof eyepiece>) => void): string {
  const batch = eyepiece();
  change(batch);
  return JSON.stringify(batch);
}

describe('a batch file', () => {
  it.each(demos)('%s is read and says that it is invented', (file) => {
    expect(readBatch(demoText(file)).invented).toMatch(/^Invented/);
  });

  it.each(demos)('%s comes back the same when written and read again', (file) => {
    const batch = readBatch(demoText(file));
    expect(readBatch(writeBatch(batch))).toEqual(batch);
  });

  it('may start with a byte order mark', () => {
    expect(readBatch(`\uFEFF${demoText('prism-face.json')}`).id).toBe('prism-face');
  });

  it('of a new order is valid', () => {
    expect(batchFrom(JSON.parse(writeBatch(newBatch('n-1')))).id).toBe('n-1');
  });

  it.each<[string, string, string]>([
    ['that is not JSON', 'lens;32', 'the file is not JSON: "l" is out of place (line 1, column 1)'],
    ['that is empty', ' \n', 'the file is empty'],
    [
      'that is another JSON',
      '{"a":1}',
      'format: this is not a Coatwright batch: its format is not "coatwright-batch"',
    ],
    ['that is null', 'null', 'format: this is not a Coatwright batch: its format is not "coatwright-batch"'],
    [
      'of a newer version',
      changed((batch) => {
        batch.version = 7;
      }),
      'version: 7 is newer than 1, the newest that this program reads; open it with a newer Coatwright',
    ],
    [
      'without a version',
      changed((batch) => {
        delete batch.version;
      }),
      'version: nothing is not a version; this program reads versions up to 1',
    ],
    [
      'with a wrong field',
      changed((batch) => {
        batch.order.lens.diamter = 3;
      }),
      'order.lens.diamter: unknown field "diamter"',
    ],
    [
      'with a field missing',
      changed((batch) => {
        delete batch.order.lens.diameterMm;
      }),
      'order.lens.diameterMm: is missing',
    ],
    [
      'with an unknown glass',
      changed((batch) => {
        batch.order.lens.substrate = '999999';
      }),
      'order.lens.substrate: "999999" is no material of the library, and the batch carries none of that name',
    ],
    [
      'with an unknown film material',
      changed((batch) => {
        batch.surfaces.front.layers[1].material = 'unobtainium';
      }),
      'surfaces.front.layers[1].material: "unobtainium" is no material of the library, and the batch carries none of that name',
    ],
    [
      'with an unknown material in a logged run',
      changed((batch) => {
        batch.runs.push({
          ...{ id: 'run-1', number: 1, side: 'front', startedAt: '', operator: '' },
          planned: {
            layers: [{ material: 'unobtainium', thicknessNm: 90, sensor: 'crystal' }],
            ...{ fingerprint: '', tooling: {}, lenses: 1 },
            ...{ pumpMin: 1, heatMin: 1, coatMin: 1, coolMin: 1, totalMin: 4 },
          },
        });
      }),
      'runs[0].planned.layers[0].material: "unobtainium" is no material of the library, and the batch carries none of that name',
    ],
    [
      'with a negative thickness',
      changed((batch) => {
        batch.surfaces.front.layers[0].thicknessNm = -3;
      }),
      'surfaces.front.layers[0].thicknessNm: -3 nm is below 0 nm',
    ],
    [
      'with an absurd diameter',
      changed((batch) => {
        batch.order.lens.diameterMm = 1e9;
      }),
      'order.lens.diameterMm: 1000000000 mm is above 1000 mm',
    ],
    [
      'with no lens to coat',
      changed((batch) => {
        batch.order.quantity = 0;
      }),
      'order.quantity: 0 is below 1',
    ],
    [
      'with a clear aperture above the diameter',
      changed((batch) => {
        batch.order.lens.clearApertureMm = 40;
      }),
      'order.lens.clearApertureMm: 40 mm is above the diameter of 32 mm',
    ],
    [
      'with a radius too strong for the diameter',
      changed((batch) => {
        batch.order.lens.frontRadiusMm = 10;
      }),
      'order.lens.frontRadiusMm: 10 mm is too strong for a diameter of 32 mm; its amount must be at least 16 mm',
    ],
    [
      'with two layers of one name',
      changed((batch) => {
        batch.surfaces.front.layers[1].id = 'f1';
      }),
      'surfaces.front.layers[1].id: "f1" names two layers',
    ],
    [
      'with a process on a source that is not there',
      changed((batch) => {
        batch.process.materials.mgf2.source = 'gun-9';
      }),
      'process.materials.mgf2.source: "gun-9" is no source of this chamber; it has "gun-1", "boat-1"',
    ],
    [
      'with a rim that leaves no rack',
      changed((batch) => {
        batch.fixture.rimMm = 180;
      }),
      'fixture.rimMm: a rim of 180 mm leaves nothing of a rack of 360 mm',
    ],
    [
      'with a back side of an unknown kind',
      changed((batch) => {
        batch.surfaces.back = 'mirrored';
      }),
      'surfaces.back: "mirrored" is not one of "same", "uncoated"',
    ],
  ])('%s is refused with one sentence', (_, text, sentence) => {
    expect(faultOf(text)).toBe(sentence);
  });
});

describe('an older document', () => {
  it('is brought up step by step, and the one given is left untouched', () => {
    const old = { version: 1, order: { lot: 'a' } };
    const steps = new Map<number, (document: Record<string, unknown>) => Record<string, unknown>>([
      [1, (document: Record<string, unknown>) => ({ ...document, added: true })],
      [2, (document: Record<string, unknown>) => ({ ...document, order: { lot: 'b' } })],
    ]);
    expect(migrate(old, steps, 3)).toEqual({ version: 3, order: { lot: 'b' }, added: true });
    expect(old).toEqual({ version: 1, order: { lot: 'a' } });
  });

  it('of the present version is returned as it is', () => {
    const document = { version: 1 };
    expect(migrate(document)).toBe(document);
  });
});
