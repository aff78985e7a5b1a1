import { existsSync } from 'node:fs';
import type { IncomingMessage, Server } from 'node:http';
import { join, relative, resolve } from 'node:path';
import type { Duplex } from 'node:stream';
import { contentGlob, PAGES, ROOT, withSlashes } from '../paths.ts';
import { isSameOrigin, mayAsk, newToken, ownHosts } from './guard.ts';
import { setRunning } from './running.ts';

export interface ServeOptions {
  readonly contentDir: string;
  readonly outputDir: string;
  /** Where the sheets of batches that are not published are. */
  readonly privateDir: string;
  readonly port?: number;
  /** Answer in the private network too, so that readings can be keyed in on a phone. */
  readonly lan?: boolean;
}

/** Between two looks for a folder that is gone. */
const PAUSE_MS = 500;

/** The part of the site generator's server that decides where it listens. */
interface Serving {
  initServerInstance: () => Promise<void>;
  readonly server: { _serverListen?: (port: number) => void; readonly server: Server };
}

/** Keeps the server to one address, also when it starts again; it would otherwise answer on all that the computer has. */
function listenOn(host: string, serving: Serving, lan: ReadonlySet<string> | null): void {
  const begin = serving.initServerInstance.bind(serving);
  serving.initServerInstance = async () => {
    await begin();
    const { server } = serving;
    if (typeof server._serverListen !== 'function') {
      throw new Error('The server of the site generator has changed: it cannot be kept to this computer.');
    }
    let guarded = false;
    server._serverListen = (port) => {
      if (!guarded) guardNews(server.server, lan);
      guarded = true;
      server.server.listen({ port, host });
    };
  };
}

/** A caller that may not ask for a page hears of no changes either: any page in the browser could listen otherwise. */
function guardNews(server: Server, lan: ReadonlySet<string> | null): void {
  server.prependListener('upgrade', (request: IncomingMessage, socket: Duplex) => {
    if (!mayAsk(request, lan) || !isSameOrigin(request)) socket.destroy();
  });
}

/**
 * Waits, at each call again, until a folder is there, and then goes on. One that was moved away and back, as a sync or an editor does
 * it, is no longer watched by then.
 */
function whenThere(folder: string, then: () => void): () => void {
  let waiting: NodeJS.Timeout | undefined;
  const wait = (): void => {
    clearTimeout(waiting);
    waiting = setTimeout(() => (existsSync(folder) ? then() : wait()), PAUSE_MS);
  };
  return wait;
}

/** The generator would tell each time that it wrote no file, which is as it should be. */
function logWithoutCount(text: string): void {
  if (!/\bWrote\b/.test(text)) console.log(text);
}

/**
 * Watches content, tables, templates and code, and shows the site on this computer; only what is asked for is made, and none
 * of it is written.
 *
 * It goes through the project's own Eleventy configuration, so that edited code is loaded again. Readings can be keyed in
 * on it with the code that comes back.
 */
export async function serveSite(options: ServeOptions): Promise<{ readonly token: string }> {
  const token = newToken();
  const printedTo = [join(options.outputDir, 'batches'), options.privateDir];
  const lan = options.lan ? ownHosts() : null;
  setRunning({ token, lan, printedTo });
  process.env.KETTLESIDE_CONTENT = options.contentDir;
  const { default: Eleventy } = await import('@11ty/eleventy');
  const eleventy = new Eleventy(withSlashes(relative(process.cwd(), PAGES)) || '.', options.outputDir, {
    configPath: withSlashes(relative(process.cwd(), join(ROOT, '.eleventy.js'))),
    source: 'cli',
    runMode: 'serve',
  });
  eleventy.logger.overrideLogger({ ...console, log: logWithoutCount });
  await eleventy.init();
  listenOn(options.lan ? '0.0.0.0' : '127.0.0.1', eleventy.eleventyServe, lan);
  const lookAgain = await eleventy.watch();
  const content = resolve(options.contentDir);
  const takeUp = whenThere(content, () => {
    eleventy.watcher.add(contentGlob(content));
    void lookAgain(content);
  });
  // What is gone is a change too.
  eleventy.watcher.on('unlink', (path) => void lookAgain(path));
  eleventy.watcher.on('unlinkDir', takeUp);
  await eleventy.serve(options.port ?? 8080);
  return { token };
}
