import { join } from 'node:path';
import { defineConfig, type TestProjectInlineConfiguration, type TestUserConfig } from 'vitest/config';

const LONG = 'tests/**/*.long.test.ts';
/** Folders whose tests open pages, build sites or start commands. */
const PAGES = ['tests/{browser,commands,key-in,paper,site,trust}/**/*.test.ts', 'tests/capabilities.test.ts'];

/** Without isolation: a module that many tests use is loaded once. */
const project = (name: string, groupOrder: number, test: TestUserConfig): TestProjectInlineConfiguration => ({
  extends: true,
  test: { name, ...test, isolate: false, maxWorkers: 2, sequence: { groupOrder } },
});

export default defineConfig({
  root: join(import.meta.dirname, '..'),
  test: {
    // Against hangs only: nothing that is asserted may depend on how busy the machine is.
    testTimeout: 300_000,
    hookTimeout: 300_000,
    expect: { poll: { timeout: 60_000 } },
    projects: [
      project('pure', 0, { include: ['tests/**/*.test.ts'], exclude: [...PAGES, LONG], pool: 'threads' }),
      project('pages', 1, { include: PAGES, exclude: [LONG], globalSetup: 'tests/shared.ts' }),
      project('long', 2, { include: [LONG], globalSetup: 'tests/shared.ts' }),
    ],
  },
});
