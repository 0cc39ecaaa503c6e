import { defineConfig } from 'vitest/config';

/** The app under load, for `npm run load`; no part of the tests, because its figures are those of the machine. */
export default defineConfig({
  test: {
    include: ['tests/bench/under-load.ts'],
    globalSetup: ['tests/support/build-where-old.ts'],
    testTimeout: 3_600_000,
    hookTimeout: 120_000,
  },
});
