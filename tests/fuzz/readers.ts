import { readdirSync, readFileSync } from 'node:fs';
import { InputError } from '../../src/base/errors.ts';
import { readBatch, writeBatch } from '../../src/batch/read-batch.ts';
import { readRequest } from '../../src/cli/read-request.ts';
import { answerRequest } from '../../src/compute/answer-request.ts';
import { TASKS } from '../../src/compute/tasks.ts';
import { readSpectrum } from '../../src/inspect/read-spectrum.ts';
import { importDatasetYaml } from '../../src/materials/own/import-dataset.ts';
import { importIndexTable } from '../../src/materials/own/import-table.ts';
import { type ImportResult, importMaterialJson } from '../../src/materials/own/own-material.ts';

/** Something of Coatwright that reads what people bring, with sound files to start from. */
export interface Reader {
  readonly name: string;
  readonly isJson: boolean;
  readonly originals: readonly Uint8Array[];
  /** The sentence of a refusal, or undefined where the bytes were read. Throws where a promise is broken. */
  read(bytes: Uint8Array): Promise<string | undefined>;
}

const encoder = new TextEncoder();
const root = new URL('../../', import.meta.url);
const file = (path: string) => Uint8Array.from(readFileSync(new URL(path, root)));
const filesOf = (folder: string) =>
  readdirSync(new URL(folder, root))
    .filter((name) => name.endsWith('.json'))
    .map((name) => file(`${folder}/${name}`));
const decoded = (bytes: Uint8Array) => new TextDecoder().decode(bytes);

/** The readers of documents, materials and spectra, and one for every task of the headless command. */
export async function everyReader(): Promise<Reader[]> {
  return [batches, materials, indexTables, datasetRecords, spectra, ...(await requests())];
}

const batches: Reader = {
  name: 'batch',
  isJson: true,
  originals: filesOf('demo'),
  read: async (bytes) =>
    refusal(() => {
      const batch = readBatch(decoded(bytes));
      const again = readBatch(writeBatch(batch));
      if (writeBatch(again) !== writeBatch(batch))
        throw new Error('a batch changes by being written and read');
    }),
};

const materials: Reader = {
  name: 'material',
  isJson: true,
  originals: [
    ...filesOf('materials').slice(0, 40),
    encoder.encode(
      JSON.stringify({
        ...JSON.parse(decoded(file('materials/mgf2.json'))),
        dispersion: { form: 'expression', n: '1.37 + 0.003 / um^2' },
      }),
    ),
  ],
  read: async (bytes) => importRefusal(await importMaterialJson(decoded(bytes))),
};

const naming = { id: 'ours', name: 'Ours', role: 'film' } as const;

const indexTables: Reader = {
  name: 'table of an index',
  isJson: false,
  originals: [
    encoder.encode('wl,n,k\n0.4,1.39,0.001\n0.5,1.38,0\n0.6,1.375,0\n0.8,1.37,0\n'),
    encoder.encode('Wavelength (nm);n;k\r\n400;1,39;0\r\n500;1,38;0\r\n600;1,375;0\r\n'),
    encoder.encode('# from an ellipsometer\nnm\tn\n400\t2.1\n500\t2.05\n600\t2.02\n'),
  ],
  read: async (bytes) => importRefusal(await importIndexTable(decoded(bytes), naming)),
};

const datasetRecords: Reader = {
  name: 'record of the open index dataset',
  isJson: false,
  originals: [
    encoder.encode(
      'REFERENCES: "Invented."\nCOMMENTS: "none"\nDATA:\n  - type: formula 2\n    wavelength_range: 0.3 2.5\n    coefficients: 0 1.04 0.006 0.23 0.02 1.01 103.6\n',
    ),
    encoder.encode(
      'REFERENCES: "Invented."\nDATA:\n  - type: tabulated nk\n    data: |\n        0.40 1.39 0.0010\n        0.50 1.38 0.0005\n        0.60 1.37 0\n',
    ),
  ],
  read: async (bytes) => importRefusal(await importDatasetYaml(decoded(bytes), naming)),
};

const points = Array.from({ length: 60 }, (_, i) => [400 + 5 * i, (30 + (i % 7)) / 50] as const);
const spectra: Reader = {
  name: 'measured spectrum',
  isJson: false,
  originals: [
    encoder.encode(`Wavelength (nm),R (%)\n${points.map((p) => p.join(',')).join('\n')}\n`),
    encoder.encode(
      `nm;%R;%T\r\n${points.map(([x, y]) => `${x};${`${y};99,1`.replace('.', ',')}`).join('\r\n')}`,
    ),
    encoder.encode(`# lot 7\nWavenumber (cm-1)\tT\n${points.map(([x]) => `${1e7 / x}\t0.98`).join('\n')}`),
    encoder.encode(
      `##TITLE=lot 7\n##JCAMP-DX=4.24\n##DATA TYPE=UV/VIS SPECTRUM\n##XUNITS=NANOMETERS\n##YUNITS=REFLECTANCE\n##FIRSTX=400\n##LASTX=695\n##NPOINTS=60\n##XFACTOR=1\n##YFACTOR=0.001\n##XYDATA=(X++(Y..Y))\n${points.map(([x, y]) => `${x}+${Math.round(1000 * y)}`).join('\n')}\n##END=\n`,
    ),
  ],
  read: async (bytes) =>
    refusal(() => {
      const { wavelengthNm, values } = readSpectrum(bytes);
      for (let i = 0; i < values.length; i++)
        if (!Number.isFinite(values[i]) || !(wavelengthNm[i]! > (wavelengthNm[i - 1] ?? 0)))
          throw new Error(`point ${i} of the spectrum read is unsound`);
    }),
};

/** Tasks whose answer to any request comes fast enough to wait for; of the others the request alone is read. */
const QUICK = [
  'charge',
  'colour',
  'crystal',
  'deposit',
  'field',
  'index',
  'nest',
  'pumpdown',
  'read',
  'spectrum',
];

async function requests(): Promise<Reader[]> {
  return Promise.all(
    Object.entries(TASKS).map(async ([name, load]) => {
      const task = await load();
      const asked = QUICK.includes(name) ? task : { ...task, run: () => ({ warnings: [] }) };
      return {
        name: `request of ${name}`,
        isJson: true,
        originals: [encoder.encode(JSON.stringify(task.example))],
        read: async (bytes: Uint8Array) => {
          let request: unknown;
          const refused = refusal(() => {
            request = readRequest(bytes, 'standard input');
          });
          if (refused !== undefined) return refused;
          const outcome = await answerRequest(asked, request, false);
          if (outcome.kind === 'own-fault') throw new Error(outcome.message);
          return outcome.kind === 'answer' ? undefined : `${outcome.path}: ${outcome.reason}`;
        },
      };
    }),
  );
}

function refusal(work: () => void): string | undefined {
  try {
    work();
    return undefined;
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
}

function importRefusal(result: ImportResult): string | undefined {
  if ('fault' in result) return result.fault;
  const [from, to] = result.material.rangeNm;
  if (!(from > 0 && to >= from)) throw new Error(`a material was read with the range ${from} to ${to} nm`);
  return undefined;
}
