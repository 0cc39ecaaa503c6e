import { describe, expect, it } from 'vitest';
import { parseRoute, type Route, routeHref } from '../../src/app/routes.ts';

const routes: Route[] = [
  { page: 'station', batchId: 'lot 7/ä', station: 'monitor' },
  { page: 'traveller', batchId: 'eyepiece' },
  { page: 'cut-table', batchId: 'eyepiece' },
  { page: 'compare', batchId: 'eyepiece', withId: 'window' },
  { page: 'compare', batchId: 'eyepiece', withId: undefined },
  { page: 'batches' },
  { page: 'materials', material: undefined, against: undefined },
  { page: 'materials', material: 'mgf2', against: 'sio2' },
];

describe('routes', () => {
  it.each(routes)('come back from their address: $page', (route) => {
    expect(parseRoute(routeHref(route))).toEqual(route);
  });

  it.each(['', '#', '#/', '#/nowhere', '#/batch', '#/batch//stack', '#/batch/%E0%A4%A/stack'])(
    'that are unknown lead to a station: %s',
    (hash) => {
      expect(parseRoute(hash).page).toBe('station');
    },
  );

  it('open a batch at its order where the station is unknown', () => {
    expect(parseRoute('#/batch/eyepiece/lathe')).toEqual({
      page: 'station',
      batchId: 'eyepiece',
      station: 'order',
    });
  });
});
