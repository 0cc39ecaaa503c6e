import { createHash } from 'node:crypto';
import { chmodSync, existsSync, readdirSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join, posix, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { playwright } from '@vitest/browser-playwright';
import { build, type Plugin } from 'vite';
import { defineConfig, type ViteUserConfig } from 'vitest/config';
import { findChromium } from './tests/support/chromium.ts';

const here = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** Libraries that browser tests use, named so that the first run is not reloaded when they are found. */
const preBundled = [
  'lit',
  'lit/decorators.js',
  'lit/directives/class-map.js',
  'lit/directives/live.js',
  'lit/directives/repeat.js',
  'lit/directives/style-map.js',
  'chart.js',
  'comlink',
  'complex.js',
  'axe-core',
  'valibot',
  'idb',
  'mathjs',
];

/** Takes the indentation out of the templates of the screen's parts, which no minifier does. */
const thinTemplates: Plugin = {
  name: 'thin-templates',
  apply: 'build',
  enforce: 'pre',
  transform(code, id) {
    return /\/src\/(app|elements)\/.*\.ts$/.test(id) ? code.replace(/\n[ \t]+/g, '\n') : undefined;
  },
};

/**
 * Builds the service worker once all other files of the app stand, and tells it their names. It is one plain script, since
 * not every browser takes a module there.
 */
const serviceWorker: Plugin = {
  name: 'service-worker',
  apply: 'build',
  async writeBundle({ dir = '' }) {
    const mark = (text: string | Buffer) => createHash('sha256').update(text).digest('hex').slice(0, 12);
    const files = readdirSync(dir, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name))
      .map((file) => ({
        path: file.slice(dir.length + 1).replaceAll(sep, posix.sep),
        mark: mark(readFileSync(file)),
      }))
      .map(({ path, mark }) => ({ path: path === 'index.html' ? './' : path, mark }))
      .sort((one, other) => (one.path < other.path ? -1 : 1));
    await build({
      configFile: false,
      logLevel: 'error',
      define: {
        __PROGRAM_FILES__: JSON.stringify({ version: mark(JSON.stringify(files)), files }),
      },
      build: {
        outDir: dir,
        emptyOutDir: false,
        copyPublicDir: false,
        target: 'es2022',
        lib: {
          entry: here('./src/app/offline/service-worker.ts'),
          formats: ['iife'],
          name: 'coatwright',
          fileName: () => 'service-worker.js',
        },
      },
    });
  },
};

/** The app: one page, served from dist/app. */
const app: ViteUserConfig = {
  root: here('./src/app'),
  base: './',
  plugins: [thinTemplates, serviceWorker],
  build: { outDir: here('./dist/app'), emptyOutDir: true, target: 'es2023' },
  worker: { format: 'es' },
};

/**
 * Puts the built command where npx looks first, so that `npx coatwright` in this folder starts at once. Where links
 * are not allowed, npx finds the command by the package's own `bin`, only later.
 */
const linkCommand: Plugin = {
  name: 'link-command',
  writeBundle({ dir }) {
    const folder = here('./node_modules/.bin');
    if (dir !== here('./dist/bin') || !existsSync(folder) || process.platform === 'win32') return;
    chmodSync(`${dir}/coatwright.js`, 0o755);
    rmSync(`${folder}/coatwright`, { force: true });
    symlinkSync('../../dist/bin/coatwright.js', `${folder}/coatwright`);
  },
};

/** The command and the local server: self-contained Node programs in dist/bin. */
const command: ViteUserConfig = {
  plugins: [linkCommand],
  ssr: { noExternal: true, target: 'node' },
  build: {
    ssr: true,
    target: 'node20',
    outDir: here('./dist/bin'),
    emptyOutDir: true,
    rollupOptions: {
      input: {
        coatwright: here('./src/cli/main.ts'),
        'task-thread': here('./src/cli/task-thread.ts'),
        'kernel-thread': here('./src/cli/kernel-thread.ts'),
        serve: here('./src/cli/serve.ts'),
      },
      output: { entryFileNames: '[name].js', banner: '#!/usr/bin/env node' },
    },
  },
};

/** The benchmark: one Node program in dist/bench. */
const bench: ViteUserConfig = {
  ssr: { noExternal: true, target: 'node' },
  build: {
    ssr: true,
    target: 'node20',
    outDir: here('./dist/bench'),
    emptyOutDir: true,
    rollupOptions: { input: { bench: here('./tests/bench/bench.ts') } },
  },
};

/** The elements, each with the code that makes it: served for those who work on them. */
const gallery: ViteUserConfig = { root: here('.'), server: { open: '/demo/elements.html' } };

/** Three projects in one run: node, elements in a real browser, whole journeys against the built app. */
async function tests(): Promise<ViteUserConfig> {
  const { executablePath, args } = await findChromium();
  return {
    test: {
      // By itself vitest leaves one of the processors idle, which is half of a machine that has two.
      maxWorkers: Math.max(2, availableParallelism()),
      // Files of a worker share their modules, and those of the journeys one browser, rather than load them file after file.
      isolate: false,
      projects: [
        {
          extends: true,
          test: {
            name: 'node',
            include: ['tests/**/*.test.ts'],
            exclude: ['tests/elements/**', 'tests/journeys/**'],
            globalSetup: ['tests/support/build-where-old.ts'],
            testTimeout: 60_000,
            hookTimeout: 120_000,
          },
        },
        {
          extends: true,
          optimizeDeps: { include: preBundled },
          test: {
            name: 'elements',
            include: ['tests/elements/**/*.test.ts'],
            setupFiles: ['tests/support/fail-on-console.ts'],
            globalSetup: ['tests/elements/support/node-answers.ts'],
            browser: {
              enabled: true,
              headless: true,
              screenshotFailures: false,
              provider: playwright({ launchOptions: { executablePath, args } }),
              instances: [{ browser: 'chromium' }],
            },
          },
        },
        {
          extends: true,
          test: {
            name: 'journeys',
            retry: 1, // Chromium now and then fails to take a picture while all cores are busy
            include: ['tests/journeys/**/*.test.ts'],
            benchmark: { include: ['tests/bench/*.bench.ts'] },
            globalSetup: ['tests/support/build-where-old.ts'],
            testTimeout: 120_000,
            hookTimeout: 120_000,
          },
        },
      ],
    },
  };
}

export default defineConfig(({ mode }) => {
  if (mode === 'app') return app;
  if (mode === 'command') return command;
  if (mode === 'gallery') return gallery;
  if (mode === 'bench') return bench;
  return tests();
});
