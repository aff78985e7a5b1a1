import { join, relative } from 'node:path';
import { PAGES, ROOT } from './paths.ts';

export interface ServeOptions {
  readonly contentDir: string;
  readonly outputDir: string;
  readonly port?: number;
}

/**
 * Builds the site, watches content, tables, templates and code, and shows it on this computer.
 *
 * It goes through the project's own Eleventy configuration, so that edited code is loaded anew.
 */
export async function serveSite(options: ServeOptions): Promise<void> {
  process.env.KETTLESIDE_CONTENT = options.contentDir;
  const { default: Eleventy } = await import('@11ty/eleventy');
  const eleventy = new Eleventy(relative(process.cwd(), PAGES) || '.', options.outputDir, {
    configPath: relative(process.cwd(), join(ROOT, '.eleventy.js')),
    source: 'cli',
    runMode: 'serve',
  });
  await eleventy.init();
  await eleventy.watch();
  await eleventy.serve(options.port ?? 8080);
}
