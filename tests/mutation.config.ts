import { defineConfig } from 'vitest/config';

/** The tests that mutants of the formulas and of the plan are run against: all but those that only take long, or read the sources as text. */
export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['tests/formulas/**/*.test.ts', 'tests/batch/**/*.test.ts'],
    exclude: [
      'tests/formulas/docstrings.test.ts',
      'tests/batch/random.test.ts',
      'tests/batch/uncertainty.test.ts',
    ],
    testTimeout: 10_000,
  },
});
