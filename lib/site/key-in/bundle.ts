import { join } from 'node:path';
import { ROOT } from '../paths.ts';

let bundled: Promise<string> | null = null;

/**
 * The script of the pages for keying in: one plain file without imports, so that it also runs from a page that was opened
 * as a file. The formulas in it are the very ones that the plan is computed with. Made once in a run.
 */
export function keyInScript(): Promise<string> {
  bundled ??= make();
  return bundled;
}

async function make(): Promise<string> {
  // Loaded here so that commands which build no site do not pay for it.
  const { rolldown } = await import('rolldown');
  const build = await rolldown({
    input: join(ROOT, 'lib/browser/key-in.ts'),
    platform: 'browser',
    logLevel: 'warn',
  });
  try {
    const { output } = await build.generate({ format: 'iife', minify: true });
    return output[0].code;
  } finally {
    await build.close();
  }
}
