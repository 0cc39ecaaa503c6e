import * as Comlink from 'comlink';
import { browserSpread } from './browser-spread.ts';
import { createWorkerApi } from './worker-api.ts';

Comlink.expose(createWorkerApi({ spread: browserSpread() }));
