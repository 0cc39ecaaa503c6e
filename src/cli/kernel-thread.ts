import { parentPort } from 'node:worker_threads';
import { hostKernels } from '../compute/kernel-host.ts';

const take = hostKernels((answer) => parentPort?.postMessage(answer));
parentPort?.on('message', take);
