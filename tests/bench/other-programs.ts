import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type TiltedMedium, tiltMedium } from '../../src/optics/tilted-admittance.ts';
import { unitsOf, type Workload } from './workloads.ts';

/** What another program says of itself. */
export interface OtherTiming {
  readonly timesNs: readonly number[];
  readonly sumOfR: number;
}

/** numpy's ways by name; undefined where python3 or numpy is missing. */
export function withNumpy(work: Workload, folder: string): Record<string, OtherTiming> | undefined {
  const { stack, incidenceRad, polarizations, absorbing, thicknessNm } = work;
  const input = JSON.stringify({
    wavelengthNm: [...stack.wavelengthNm],
    layers: stack.layers.map(({ n, k }) => [[...n], [...k]]),
    substrate: [...stack.substrate.n],
    incident: [...stack.incident.n],
    thicknessNm: [...thicknessNm],
    incidenceRad,
    polarizations,
    absorbing,
    units: unitsOf(work),
  });
  const one = { OPENBLAS_NUM_THREADS: '1', OMP_NUM_THREADS: '1' };
  const { status, stdout } = spawnSync('python3', [join(folder, 'with_numpy.py')], {
    input,
    encoding: 'utf8',
    env: { ...process.env, ...one },
    maxBuffer: 1e8,
  });
  return status === 0 ? (JSON.parse(stdout) as Record<string, OtherTiming>) : undefined;
}

/** The C program, compiled at -O3 -march=native; undefined where gcc is missing. */
export function withC(work: Workload, folder: string): OtherTiming | undefined {
  const place = mkdtempSync(join(tmpdir(), 'coatwright-bench-'));
  try {
    const program = join(place, 'plain_c');
    const flags = ['-O3', '-march=native', '-ffast-math', join(folder, 'plain_c.c'), '-o', program, '-lm'];
    if (spawnSync('gcc', flags).status !== 0) return undefined;
    const { status, stdout } = spawnSync(program, {
      input: tablesOf(work),
      encoding: 'utf8',
      maxBuffer: 1e8,
    });
    return status === 0 ? (JSON.parse(stdout) as OtherTiming) : undefined;
  } finally {
    rmSync(place, { recursive: true });
  }
}

function tablesOf({ stack, incidenceRad, polarizations, absorbing, thicknessNm }: Workload): string {
  const count = stack.wavelengthNm.length;
  const tilted: TiltedMedium = { normalRe: 0, normalIm: 0, admittanceRe: 0, admittanceIm: 0 };
  const parts: number[][] = [[], [], [], []];
  const ends: number[] = [];
  for (const polarization of polarizations) {
    const tilt = (n: number, k: number) => {
      tiltMedium(tilted, n, k, 1, Math.sin(incidenceRad), Math.cos(incidenceRad), polarization, 0);
      return tilted;
    };
    for (const { n, k } of stack.layers) {
      for (let w = 0; w < count; w++) {
        const wave = (2 * Math.PI) / stack.wavelengthNm[w]!;
        const { normalRe, normalIm, admittanceRe, admittanceIm } = tilt(n[w]!, k[w]!);
        [wave * normalRe, wave * normalIm, admittanceRe, admittanceIm].forEach((value, part) => {
          parts[part]!.push(value);
        });
      }
    }
    ends.push(...stack.incident.n.map((n) => tilt(n, 0).admittanceRe));
    ends.push(...stack.substrate.n.map((n) => tilt(n, 0).admittanceRe));
  }
  const head = [stack.layers.length, count, polarizations.length, absorbing ? 1 : 0];
  return [...head, ...thicknessNm, ...parts.flat(), ...ends].join('\n');
}
