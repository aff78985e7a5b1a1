/** A static host in miniature: files of a folder, below a prefix of the address. */
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.css': 'text/css',
  '.js': 'text/javascript',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.woff2': 'font/woff2',
};

export interface Served {
  /** With a slash at its end. */
  readonly url: string;
  /** Paths that were asked for and are not there. */
  readonly missing: readonly string[];
  close(): Promise<void>;
}

export async function serveFolder(folder: string, prefix = '/'): Promise<Served> {
  const missing: string[] = [];
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname);
    const inside = path.startsWith(prefix) ? normalize(path.slice(prefix.length)) : '..';
    const file = join(folder, inside === '.' || inside.endsWith('/') ? `${inside}/index.html` : inside);
    const send = inside.startsWith('..') ? Promise.reject(new Error('outside')) : readFile(file);
    send.then(
      (bytes) => {
        response.setHeader('content-type', TYPES[extname(file)] ?? 'application/octet-stream');
        response.end(bytes);
      },
      () => {
        missing.push(path);
        response.statusCode = 404;
        response.end();
      },
    );
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const { port } = server.address() as AddressInfo;
  return {
    url: `http://127.0.0.1:${port}${prefix}`,
    missing,
    close: () => new Promise((done) => server.close(() => done())),
  };
}
