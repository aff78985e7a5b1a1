import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

const LONG = 'tests/**/*.long.test.ts';
/** Folders whose tests open pages, build sites or start commands. */
const PAGES = 'tests/{browser,commands,feeds,key-in,paper,site,trust}/**/*.test.ts';

/** One process, in which a module that many tests use is loaded once. */
const SHARED = { isolate: false, maxWorkers: 1 } as const;
const setup = 'tests/shared.ts';

export default defineConfig({
  root: join(import.meta.dirname, '..'),
  test: {
    // Against hangs only: nothing that is asserted may depend on how busy the machine is.
    testTimeout: 300_000,
    hookTimeout: 300_000,
    projects: [
      {
        extends: true,
        test: { name: 'pure', include: ['tests/**/*.test.ts'], exclude: [PAGES, LONG], ...SHARED },
      },
      {
        extends: true,
        test: { name: 'pages', include: [PAGES], exclude: [LONG], globalSetup: setup, ...SHARED },
      },
      { extends: true, test: { name: 'long', include: [LONG], globalSetup: setup, ...SHARED } },
    ],
  },
});
