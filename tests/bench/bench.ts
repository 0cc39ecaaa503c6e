import { measure } from './measure.ts';
import { ourKernel } from './our-kernel.ts';
import { unitsOf, workloads } from './workloads.ts';

for (const w of workloads()) {
  for (const j of [false, true]) {
    const t = measure(unitsOf(w), ourKernel(w, j));
    console.log(w.name, j, t);
  }
}
