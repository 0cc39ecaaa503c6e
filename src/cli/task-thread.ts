import { parentPort, workerData } from 'node:worker_threads';
import { answerRequest } from '../compute/answer-request.ts';
import { TASKS } from '../compute/tasks.ts';
import { readSmallFile } from './read-small-file.ts';
import type { ThreadMessage, ThreadOrder } from './run-in-thread.ts';
import { threadPool } from './spread-threads.ts';

const { name, request, wantsPapers } = workerData as ThreadOrder;
const send = (message: ThreadMessage) => parentPort?.postMessage(message);

const outcome = await answerRequest(await TASKS[name]!(), request, wantsPapers, {
  progress: (fraction, doing) => send({ kind: 'progress', fraction, doing }),
  readFile: readSmallFile,
  spread: threadPool().spread,
});
send({ kind: 'outcome', outcome });
