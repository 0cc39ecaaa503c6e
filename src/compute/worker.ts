import * as Comlink from 'comlink';
import { createWorkerApi } from './worker-api.ts';

Comlink.expose(createWorkerApi());
