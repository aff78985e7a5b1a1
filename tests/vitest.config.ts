import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: join(import.meta.dirname, '..'),
  test: {
    include: ['tests/**/*.test.ts'],
    // Against hangs only: what a test takes alone is a tenth of this, on a machine that others use too it was a half.
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
