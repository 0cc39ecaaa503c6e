import { defineConfig } from 'vitest/config';

/** The tests that mutants are run against: those of the four folders, in Node, without a browser. */
export default defineConfig({
  test: { include: ['tests/{optics,chamber,monitor,inspect}/**/*.test.ts'], testTimeout: 60_000 },
});
