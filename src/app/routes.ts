/** The stations of a lens's way through the shop, in its order. */
export const STATIONS = ['order', 'stack', 'load', 'run', 'monitor', 'inspect'] as const;
export type Station = (typeof STATIONS)[number];

/** What the reader is looking at. The address's hash says it, so that every view can be bookmarked and left by "back". */
export type Route =
  | {
      readonly page: 'station';
      readonly batchId: string | undefined;
      readonly station: Station;
      /** Id of the logged run that is looked for. */
      readonly run?: string;
      /** Fingerprint of the printed sheet whose code led here, without hyphens. */
      readonly sheet?: string;
    }
  | { readonly page: 'traveller' | 'cut-table'; readonly batchId: string }
  | { readonly page: 'certificate'; readonly batchId: string; readonly runId: string }
  | { readonly page: 'compare'; readonly batchId: string; readonly withId: string | undefined }
  | { readonly page: 'batches' }
  | { readonly page: 'new' }
  | {
      readonly page: 'materials';
      readonly material: string | undefined;
      readonly against: string | undefined;
    };

/** Reads an address's hash; what it does not know leads to the bench. */
export function parseRoute(hash: string): Route {
  const [path = '', search = ''] = hash.replace(/^#\/?/, '').split('?');
  const parts = path.split('/').map(decoded);
  const query = new URLSearchParams(search);
  if (parts[0] === 'batches') return { page: 'batches' };
  if (parts[0] === 'new') return { page: 'new' };
  if (parts[0] === 'materials')
    return { page: 'materials', material: parts[1] || undefined, against: query.get('with') ?? undefined };
  const batchId = parts[0] === 'batch' ? parts[1] || undefined : undefined;
  if (batchId !== undefined && (parts[2] === 'traveller' || parts[2] === 'cut-table'))
    return { page: parts[2], batchId };
  if (batchId !== undefined && parts[2] === 'certificate' && parts[3])
    return { page: 'certificate', batchId, runId: parts[3] };
  if (batchId !== undefined && parts[2] === 'compare')
    return { page: 'compare', batchId, withId: parts[3] || undefined };
  const [run, sheet] = [query.get('run'), query.get('sheet')];
  return {
    page: 'station',
    batchId,
    station: STATIONS.find((name) => name === parts[2]) ?? 'order',
    ...(run ? { run } : {}),
    ...(sheet ? { sheet } : {}),
  };
}

/** The hash that leads to a route. */
export function routeHref(route: Route): string {
  switch (route.page) {
    case 'station':
      return route.batchId === undefined
        ? '#/'
        : `#/batch/${encodeURIComponent(route.batchId)}/${route.station}${queryText({ run: route.run, sheet: route.sheet })}`;
    case 'traveller':
    case 'cut-table':
      return `#/batch/${encodeURIComponent(route.batchId)}/${route.page}`;
    case 'certificate':
      return `#/batch/${encodeURIComponent(route.batchId)}/certificate/${encodeURIComponent(route.runId)}`;
    case 'compare':
      return `#/batch/${encodeURIComponent(route.batchId)}/compare${route.withId === undefined ? '' : `/${encodeURIComponent(route.withId)}`}`;
    case 'batches':
      return '#/batches';
    case 'new':
      return '#/new';
    case 'materials': {
      const material = route.material === undefined ? '' : `/${encodeURIComponent(route.material)}`;
      return `#/materials${material}${route.against === undefined ? '' : `?with=${encodeURIComponent(route.against)}`}`;
    }
  }
}

function queryText(fields: Readonly<Record<string, string | undefined>>): string {
  const given = Object.entries(fields).filter((field): field is [string, string] => field[1] !== undefined);
  return given.length === 0 ? '' : `?${new URLSearchParams(given)}`;
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
