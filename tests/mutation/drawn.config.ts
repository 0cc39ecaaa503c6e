import { readFileSync } from 'node:fs';
import { relative, sep } from 'node:path';
import { defineConfig } from 'vitest/config';

/** Code with switches for mutants, by the name of its file. */
const { code: switched } = JSON.parse(readFileSync(process.env.COATWRIGHT_MUTANT_CODE!, 'utf8')) as {
  code: Record<string, string>;
};

/** Tests as they are, over code with switches for mutants: `drawn.mjs` calls them. */
export default defineConfig({
  plugins: [
    {
      name: 'switched-code',
      enforce: 'pre',
      load: (id) => switched[relative('.', id.split('?')[0]!).split(sep).join('/')],
    },
  ],
  test: {
    include: ['tests/{optics,chamber,monitor,inspect}/**/*.test.ts'],
    setupFiles: ['tests/mutation/each-mutant.ts'],
    pool: 'forks',
    maxWorkers: 1,
    testTimeout: 0,
    hookTimeout: 0,
    reporters: [['default', { summary: false }]],
  },
});
