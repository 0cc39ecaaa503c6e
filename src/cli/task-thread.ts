import { readFile } from 'node:fs/promises';
import { parentPort, workerData } from 'node:worker_threads';
import { parse } from '../base/schema.ts';
import { answerRequest } from '../compute/answer-request.ts';
import { TASKS } from '../compute/tasks.ts';
import { prepareFor } from '../materials/prepare.ts';
import type { ThreadMessage, ThreadOrder } from './run-in-thread.ts';
import { shareOut } from './share-out.ts';
import { threadPool } from './spread-threads.ts';

const order = workerData as ThreadOrder;
const { name, request, wantsPapers } = order;
const send = (message: ThreadMessage) => parentPort?.postMessage(message);

const task = await TASKS[name]!();
if (order.parts === undefined) {
  const outcome = await answerRequest(task, request, wantsPapers, {
    progress: (fraction, doing) => send({ kind: 'progress', fraction, doing }),
    readFile: (path) => readFile(path),
    inParts: (parts, finished) => shareOut(order, parts, finished),
    spread: threadPool().spread,
  });
  send({ kind: 'outcome', outcome });
} else {
  await prepareFor(request);
  const typed = parse(task.request, request);
  for (const part of order.parts) parentPort?.postMessage(task.part!(typed, part));
}
