import { html, nothing, type TemplateResult } from 'lit';
import { cache } from 'lit/directives/cache.js';
import { keyed } from 'lit/directives/keyed.js';
import { until } from 'lit/directives/until.js';
import { lotWords } from '../../batch/lot-words.ts';
import type { Bench } from '../bench.ts';
import type { BenchState } from '../bench-state.ts';
import type { Route, Station } from '../routes.ts';

/** Loads the view of a station when it is first opened. */
const LOADERS: Readonly<Record<Station | Exclude<Route['page'], 'station'>, () => Promise<unknown>>> = {
  order: () => import('../stations/order/order-station.ts'),
  stack: () => import('../stations/stack/stack-station.ts'),
  load: () => import('../stations/load/load-station.ts'),
  run: () => import('../stations/run/run-station.ts'),
  monitor: () => import('../stations/monitor/monitor-station.ts'),
  inspect: () => import('../stations/inspect/inspect-station.ts'),
  traveller: () => import('../pages/traveller-page.ts'),
  'cut-table': () => import('../pages/traveller-page.ts'),
  certificate: () => import('../pages/certificate-page.ts'),
  compare: () => import('../pages/compare-page.ts'),
  batches: () => import('../pages/batches-page.ts'),
  new: () => import('../pages/new-order-page.ts'),
  materials: () => import('../pages/materials-page.ts'),
};

const loaded = new Map<string, Promise<unknown>>();
const ready = new Set<string>();

function load(name: keyof typeof LOADERS): Promise<unknown> {
  const before = loaded.get(name);
  if (before !== undefined) return before;
  const loading = LOADERS[name]();
  loaded.set(name, loading);
  loading.then(
    () => ready.add(name),
    () => loaded.delete(name), // so that a broken line can be tried again
  );
  return loading;
}

/**
 * The view of a route; a word in its place while its part of the program is being fetched. Views in which one types are kept while
 * another one is shown, those of a batch for as long as it is open: what stands in a field half done is there on coming back.
 */
export function pageOf(route: Route, bench: Bench, state: BenchState): TemplateResult {
  const name = route.page === 'station' ? route.station : route.page;
  const work = cache(workView(route, bench, state));
  const order = cache(
    route.page === 'new'
      ? html`<app-new-order-page .bench=${bench} .state=${state}></app-new-order-page>`
      : nothing,
  );
  // One template for all, so that a view stays in its place once its part of the program has come.
  return html`${keyed(state.batch.id, html`${work}`)}${order}${paperView(route, bench, state)}${ready.has(name) ? nothing : waiting(name)}`;
}

function waiting(name: keyof typeof LOADERS) {
  const fetched = load(name).then(
    () => nothing,
    () =>
      html`<p role="alert">This part of the program could not be fetched. Check the connection and reload the page.</p>`,
  );
  return until(fetched, html`<p>One moment …</p>`);
}

/** Where one works on the batch. */
function workView(route: Route, bench: Bench, state: BenchState): TemplateResult | typeof nothing {
  if (route.page === 'materials')
    return html`<app-materials-page .bench=${bench} .state=${state} .material=${route.material} .against=${route.against}></app-materials-page>`;
  if (route.page !== 'station') return nothing;
  switch (route.station) {
    case 'order':
      return html`<app-order-station .bench=${bench} .state=${state}></app-order-station>`;
    case 'stack':
      return html`<app-stack-station .bench=${bench} .state=${state}></app-stack-station>`;
    case 'load':
      return html`<app-load-station .bench=${bench} .state=${state}></app-load-station>`;
    case 'run':
      return html`<app-run-station .bench=${bench} .state=${state}></app-run-station>`;
    case 'monitor':
      return html`<app-monitor-station .bench=${bench} .state=${state}></app-monitor-station>`;
    case 'inspect':
      return html`<app-inspect-station .bench=${bench} .state=${state} .wantedRun=${route.run} .sheet=${route.sheet}></app-inspect-station>`;
  }
}

/** What is only looked at or printed. */
function paperView(route: Route, bench: Bench, state: BenchState): TemplateResult | typeof nothing {
  switch (route.page) {
    case 'traveller':
    case 'cut-table':
      return html`<app-traveller-page .bench=${bench} .state=${state} .cutsOnly=${route.page === 'cut-table'}></app-traveller-page>`;
    case 'certificate':
      return html`<app-certificate-page .bench=${bench} .state=${state} .runId=${route.runId}></app-certificate-page>`;
    case 'compare':
      return html`<app-compare-page .bench=${bench} .state=${state} .withId=${route.withId}></app-compare-page>`;
    case 'batches':
      return html`<app-batches-page .bench=${bench} .state=${state}></app-batches-page>`;
    default:
      return nothing;
  }
}

const TITLES = {
  traveller: 'Traveller',
  'cut-table': 'Cut table',
  certificate: 'Certificate',
  compare: 'Compare',
  batches: 'Batches',
  new: 'New order',
  materials: 'Materials',
} as const;

/** The page's title: where one is, and in which batch. */
export function pageTitle(route: Route, { batch }: BenchState): string {
  const { title, lot } = batch.order;
  const name = lot === '' ? title : `${title}, ${lotWords(lot)}`;
  if (route.page === 'batches' || route.page === 'new' || route.page === 'materials')
    return `${TITLES[route.page]} · Coatwright`;
  const place =
    route.page === 'station' ? route.station[0]!.toUpperCase() + route.station.slice(1) : TITLES[route.page];
  return `${place} · ${name} · Coatwright`;
}
