import * as Comlink from 'comlink';
import { browserSpread } from './browser-spread.ts';
import { holdLifeLock } from './life-lock.ts';
import { createWorkerApi } from './worker-api.ts';

declare function postMessage(message: unknown): void;

holdLifeLock((message) => postMessage(message));
Comlink.expose(createWorkerApi({ spread: browserSpread() }));
