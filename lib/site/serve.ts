import { join, relative } from 'node:path';
import { newToken, ownHosts } from './key-in/guard.ts';
import { setRunning } from './key-in/running.ts';
import { PAGES, ROOT, withSlashes } from './paths.ts';

export interface ServeOptions {
  readonly contentDir: string;
  readonly outputDir: string;
  /** Where the sheets of batches that are not published are. */
  readonly privateDir: string;
  readonly port?: number;
  /** Answer in the private network too, so that readings can be keyed in on a phone. */
  readonly lan?: boolean;
}

/** The part of the site generator's server that decides where it listens. */
interface Serving {
  initServerInstance: () => Promise<void>;
  readonly server: { _serverListen?: (port: number) => void; readonly server: { listen(at: object): void } };
}

/** Keeps the server to one address, also when it begins anew; it would otherwise answer on all that the computer has. */
function listenOn(host: string, serving: Serving): void {
  const begin = serving.initServerInstance.bind(serving);
  serving.initServerInstance = async () => {
    await begin();
    const { server } = serving;
    if (typeof server._serverListen !== 'function') {
      throw new Error('The server of the site generator has changed: it cannot be kept to this computer.');
    }
    server._serverListen = (port) => server.server.listen({ port, host });
  };
}

/** The generator would tell each time that it wrote no file, which is as it should be. */
function logWithoutCount(text: string): void {
  if (!/\bWrote\b/.test(text)) console.log(text);
}

/**
 * Watches content, tables, templates and code, and shows the site on this computer; only what is asked for is made, and none
 * of it is written.
 *
 * It goes through the project's own Eleventy configuration, so that edited code is loaded anew. Readings can be keyed in
 * on it with the code that comes back.
 */
export async function serveSite(options: ServeOptions): Promise<{ readonly token: string }> {
  const token = newToken();
  const printedTo = [join(options.outputDir, 'batches'), options.privateDir];
  setRunning({ token, lan: options.lan ? ownHosts() : null, printedTo });
  process.env.KETTLESIDE_CONTENT = options.contentDir;
  const { default: Eleventy } = await import('@11ty/eleventy');
  const eleventy = new Eleventy(withSlashes(relative(process.cwd(), PAGES)) || '.', options.outputDir, {
    configPath: withSlashes(relative(process.cwd(), join(ROOT, '.eleventy.js'))),
    source: 'cli',
    runMode: 'serve',
  });
  eleventy.logger.overrideLogger({ ...console, log: logWithoutCount });
  await eleventy.init();
  listenOn(options.lan ? '0.0.0.0' : '127.0.0.1', eleventy.eleventyServe);
  const lookAgain = await eleventy.watch();
  // A file of the brewer's that is gone is a change too.
  eleventy.watcher.on('unlink', (path) => {
    if (/\.(?:md|ya?ml)$/.test(path)) void lookAgain(path);
  });
  await eleventy.serve(options.port ?? 8080);
  return { token };
}
