import { cpus } from 'node:os';
import { useCompiledKernels } from '../../src/optics/simd/compiled-kernels.ts';
import { nestingTimes, rackTimes, shieldTimes } from './chamber-jobs.ts';
import { judgedTrials, refinement } from './design-jobs.ts';
import { measure, sink, type Timing, timing } from './measure.ts';
import { withC, withNumpy } from './other-programs.ts';
import { ourKernel } from './our-kernel.ts';
import { growingLayer, perturbedStacks } from './small-jobs.ts';
import { virtualRunTimes } from './virtual-runs.ts';
import { withComplexJs } from './with-complex-js.ts';
import { withMathjs } from './with-mathjs.ts';
import { unitsOf, type Workload, workloads } from './workloads.ts';

/*
 * The engine's speed against the same computation done otherwise, side by side in one run:
 *   npm run bench
 * Processor time in nanoseconds for each layer, wavelength and polarization. Every contestant's sum of R is
 * compared with ours before it counts.
 */

const folder = 'tests/bench';

interface Row {
  readonly name: string;
  readonly timing: Timing;
}

function contest(work: Workload): void {
  const units = unitsOf(work);
  const kernel = ourKernel(work, false);
  const expected = kernel.sumOfR();
  const rows: Row[] = [];
  const enter = (name: string, result: Timing, sum: number) => {
    const off = Math.abs(sum / expected - 1);
    if (!(off < 1e-9)) throw new Error(`${name} is off by ${off} in ${work.name}`);
    rows.push({ name, timing: result });
  };
  enter('ours', measure(units, kernel.run), expected);
  const typed = ourKernel(work, false, true);
  enter('ours, plain TypeScript', measure(units, typed.run), typed.sumOfR());
  const jacobians = [false, true].map((isPlain) => measure(units, ourKernel(work, true, isPlain).run));
  const plain = withComplexJs(work);
  enter('complex.js', measure(units, plain, 60, 5), plain(0));
  const matrices = withMathjs(work);
  enter('mathjs matrices', measure(units, matrices, 60, 3), matrices(0));
  const numpy = withNumpy(work, folder);
  for (const [name, one] of Object.entries(numpy ?? {}))
    enter(`numpy, ${name}`, timing(one.timesNs), one.sumOfR);
  const c = withC(work, folder);
  if (c !== undefined) enter('C -O3 -march=native', timing(c.timesNs), c.sumOfR);

  const ours = rows[0]!.timing.medianNs;
  console.log(`\n${work.name}: ${work.what}`);
  console.log('                                    median ± spread    least   times ours');
  for (const { name, timing: one } of rows)
    console.log(
      `  ${name.padEnd(32)} ${figure(one.medianNs)} ± ${figure(one.spreadNs)} ${figure(one.leastNs)}   ${(one.medianNs / ours).toFixed(2).padStart(8)}`,
    );
  jacobians.forEach((jacobian, place) => {
    const forward = rows[place]!;
    const ratio = (jacobian.medianNs / forward.timing.medianNs).toFixed(2);
    console.log(
      `  ${`${forward.name}, Jacobian`.padEnd(32)} ${figure(jacobian.medianNs)} ± ${figure(jacobian.spreadNs)} ${figure(jacobian.leastNs)}   ${ratio} times its forward pass`,
    );
  });
  if (numpy === undefined) console.log('  numpy: python3 with numpy is not here');
  if (c === undefined) console.log('  C: gcc is not here');
}

function figure(value: number): string {
  return value.toFixed(value < 100 ? 2 : 0).padStart(8);
}

console.log(`${cpus()[0]?.model ?? 'unknown processor'}, ${cpus().length} cores, Node ${process.version}`);
if (!useCompiledKernels()) console.log('The compiled kernels cannot be loaded here.');
for (const work of workloads()) contest(work);
const step = growingLayer(0);
const lossyStep = growingLayer(1e-3);
const stacks = perturbedStacks();
console.log(`
One step of a growing layer: ${step.medianNs.toFixed(1)} ± ${step.spreadNs.toFixed(1)} ns; absorbing ${lossyStep.medianNs.toFixed(1)} ± ${lossyStep.spreadNs.toFixed(1)} ns
10,000 perturbed 8-layer stacks at 61 wavelengths: ${(stacks.medianNs / 100).toFixed(1)} ± ${(stacks.spreadNs / 100).toFixed(1)} ms`);
const refined = refinement();
const judged = judgedTrials();
console.log(`
Refinement of 8 layers at 121 wavelengths to convergence: ${(refined.medianNs / 1e6).toFixed(2)} ± ${(refined.spreadNs / 1e6).toFixed(2)} ms
10,000 virtual coatings of 8 layers at 61 wavelengths, drawn and judged: ${(judged.medianNs / 100).toFixed(1)} ± ${(judged.spreadNs / 100).toFixed(1)} ms`);
console.log('\nVirtual runs, 8 layers of 2000 readings: ns for each');
for (const { name, timing: one } of virtualRunTimes())
  console.log(
    `  ${name.padEnd(36)} ${figure(one.medianNs)} ± ${figure(one.spreadNs)} ${figure(one.leastNs)}`,
  );
console.log('\nThe chamber: film over 61 places, and nesting; ms for each');
for (const { name, timing: one } of [...rackTimes(), ...shieldTimes(), ...nestingTimes()])
  console.log(`  ${name.padEnd(36)} ${figure(one.medianNs / 1e6)} ± ${figure(one.spreadNs / 1e6)}`);
console.log(`\n(sink ${sink.sum.toExponential(3)})`);
