import type { Browser } from 'playwright-core';

/** Starts the Chromium that comes with the project's packages. */
export async function openBrowser(): Promise<Browser> {
  process.env.AWS_EXECUTION_ENV = 'AWS_Lambda_nodejs22.x';
  const [{ default: bundled }, { chromium }] = await Promise.all([
    import('@sparticuz/chromium'),
    import('playwright-core'),
  ]);
  return chromium.launch({ executablePath: await bundled.executablePath(), args: ['--no-sandbox'] });
}
