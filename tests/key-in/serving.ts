/** The pages for keying in on a server of their own, and requests that say whatever a test wants them to say. */
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, request } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { READINGS_TYPE } from '../../lib/browser/key-in/data.ts';
import { keyInHandler } from '../../lib/site/key-in/handler.ts';

const ROOT = join(import.meta.dirname, '../..');
export const TOKEN = 'k7pm-2xqd-9rtc';

export interface Kitchen {
  readonly dir: string;
  readonly content: string;
  batch(slug: string): string;
  text(slug: string): string;
  write(slug: string, text: string): void;
  remove(): void;
}

/** A copy of the demo kit and some of the demo batches in a folder of its own. */
export function kitchen(slugs: readonly string[]): Kitchen {
  const dir = mkdtempSync(join(tmpdir(), 'kettleside-key-in-'));
  const content = join(dir, 'content');
  mkdirSync(join(content, 'batches'), { recursive: true });
  for (const name of ['brewery', 'setups', 'ingredients'])
    cpSync(join(ROOT, `content/${name}.yaml`), join(content, `${name}.yaml`));
  const batch = (slug: string) => join(content, `batches/${slug}.md`);
  for (const slug of slugs) cpSync(join(ROOT, `content/batches/${slug}.md`), batch(slug));
  return {
    dir,
    content,
    batch,
    text: (slug) => readFileSync(batch(slug), 'utf8'),
    write: (slug, text) => writeFileSync(batch(slug), text),
    remove: () => rmSync(dir, { recursive: true, force: true }),
  };
}

export interface Reply {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | readonly string[] | undefined>>;
  readonly body: string;
}

export interface Served {
  readonly port: number;
  readonly origin: string;
  get(path: string, headers?: Readonly<Record<string, string>>): Promise<Reply>;
  /** Sends readings as the form of this server with the code would, but for the headers that are given. */
  post(path: string, body: string, headers?: Readonly<Record<string, string | null>>): Promise<Reply>;
  close(): Promise<void>;
}

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.css': 'text/css',
  '.js': 'text/javascript',
  '.svg': 'image/svg+xml',
  '.woff2': 'font/woff2',
};

/** Answers for the forms of a content folder, and with the files of a built site where there is one. */
export async function serve(
  content: string,
  { site = null, printedTo = [] }: { site?: string | null; printedTo?: readonly string[] } = {},
): Promise<Served> {
  const handler = keyInHandler({ contentDir: content, token: TOKEN, lan: null, printedTo });
  const server = createServer((asked, reply) =>
    handler(asked, reply, () => {
      const path = (asked.url ?? '/').replace(/[?#].*/, '').replace(/\/$/, '/index.html');
      const file = site === null ? null : join(site, path);
      if (file !== null && existsSync(file)) {
        reply.setHeader('content-type', TYPES[extname(path)] ?? 'text/plain');
        reply.end(readFileSync(file));
        return;
      }
      reply.statusCode = 404;
      reply.end('elsewhere');
    }),
  );
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  const { port } = server.address() as AddressInfo;
  const origin = `http://localhost:${port}`;
  const own = { host: `localhost:${port}`, cookie: `kettleside-code=${TOKEN}` };
  const send = (
    method: string,
    path: string,
    headers: Readonly<Record<string, string | null>>,
    body: string,
  ): Promise<Reply> =>
    new Promise((resolve, reject) => {
      const kept = Object.entries(headers).filter((pair): pair is [string, string] => pair[1] !== null);
      const asked = request(
        { host: '127.0.0.1', port, method, path, headers: Object.fromEntries(kept), agent: false },
        (reply) => {
          let text = '';
          reply.setEncoding('utf8');
          reply.on('data', (chunk) => {
            text += chunk;
          });
          reply.on('end', () =>
            resolve({ status: reply.statusCode ?? 0, headers: reply.headers, body: text }),
          );
          reply.on('error', reject);
        },
      );
      asked.on('error', reject);
      asked.end(body);
    });
  return {
    port,
    origin,
    get: (path, headers = {}) => send('GET', path, { ...own, ...headers }, ''),
    post: (path, body, headers = {}) =>
      send('POST', path, { ...own, 'content-type': READINGS_TYPE, origin, ...headers }, body),
    close: () =>
      new Promise((closed) => {
        server.closeAllConnections();
        server.close(() => closed());
      }),
  };
}

/** What a form sends: readings by key, and what the file said of them when it was opened. */
export function keyed(
  slug: string,
  readings: Readonly<Record<string, string>>,
  was: Readonly<Record<string, string>> = {},
): string {
  const lines = Object.entries(readings).flatMap(([key, text]) => [
    `was ${key} = ${was[key] ?? ''}`,
    `${key} = ${text}`,
  ]);
  const days = Object.entries(was).filter(([key]) => key.endsWith('].on'));
  const all = [`batch = ${slug}`, ...days.map(([key, text]) => `was ${key} = ${text}`), ...lines, ''];
  return all.join('\n');
}
