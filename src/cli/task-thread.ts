import { readFile } from 'node:fs/promises';
import { parentPort, workerData } from 'node:worker_threads';
import { answerRequest } from '../compute/answer-request.ts';
import { TASKS } from '../compute/tasks.ts';
import type { ThreadMessage, ThreadOrder } from './run-in-thread.ts';

const { name, request, wantsPapers } = workerData as ThreadOrder;
const send = (message: ThreadMessage) => parentPort?.postMessage(message);

const task = await TASKS[name]!();
const outcome = await answerRequest(task, request, wantsPapers, {
  progress: (fraction, doing) => send({ kind: 'progress', fraction, doing }),
  readFile: (path) => readFile(path),
});
send({ kind: 'outcome', outcome });
