import { afterEach, beforeEach, expect, vi } from 'vitest';

/** A warning or an error on the console that a test did not expect fails that test. */
beforeEach(() => {
  vi.spyOn(console, 'warn');
  vi.spyOn(console, 'error');
});

afterEach(() => {
  const said = [...vi.mocked(console.warn).mock.calls, ...vi.mocked(console.error).mock.calls]
    .map((call) => String(call[0]))
    .filter((text) => !text.startsWith('Lit is in dev mode'));
  vi.restoreAllMocks();
  expect(said).toEqual([]);
});
