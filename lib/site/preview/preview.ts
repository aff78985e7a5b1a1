import type { IncomingMessage, ServerResponse } from 'node:http';
import { extname } from 'node:path';
import type { AssetFiles } from '../assets.ts';
import type { Pages } from '../pages.ts';
import { MISSING_PATH } from '../paths.ts';
import { addressOf, HTML, type Middleware, PLAIN, sendBody } from './http.ts';

/** What there is to be looked at. */
export interface Shown {
  readonly pages: Pages;
  readonly assets: AssetFiles;
}

const TYPES: Readonly<Record<string, string>> = {
  '.css': 'text/css; charset=utf-8',
  '.csv': 'text/csv; charset=utf-8',
  '.html': HTML,
  '.ics': 'text/calendar; charset=utf-8',
  '.jpg': 'image/jpeg',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.txt': PLAIN,
  '.woff2': 'font/woff2',
  '.xml': 'application/xml; charset=utf-8',
};

/** What a request gets. */
export type Answer =
  | { readonly status: 200 | 404; readonly type: string; readonly body: string | Uint8Array }
  | { readonly status: 302; readonly to: string };

/**
 * Makes the file that an address asks for: a page or a sheet out of the plans as they are now, or an asset. Nothing is read from
 * a folder, so an address can lead nowhere else; what is not there is the page that says so.
 *
 * @param path of the address, still encoded, with its leading slash
 */
export async function answerPath({ pages, assets }: Shown, path: string): Promise<Answer> {
  const name = fileOf(path);
  const asset = assets.get(name);
  const type = TYPES[extname(name)] ?? 'application/octet-stream';
  if (asset !== undefined) return { status: 200, type, body: await asset() };
  if (pages.has(name)) return { status: 200, type, body: pages.file(name) };
  if (pages.has(`${name}/index.html`)) return { status: 302, to: `${path}/` };
  return { status: 404, type: HTML, body: pages.file(MISSING_PATH) };
}

/** The file that an address means; one that is written wrongly means none. */
function fileOf(path: string): string {
  try {
    const asked = decodeURIComponent(path.slice(1));
    return asked === '' || asked.endsWith('/') ? `${asked}index.html` : asked;
  } catch {
    return '';
  }
}

/** Answers everything that no handler before it has taken; each file is made at that moment. */
export function pagesHandler(shown: () => Shown): Middleware {
  return (request, response) => {
    const { pathname } = addressOf(request.url);
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      plain(response, 405, 'Only GET.');
      return;
    }
    Promise.resolve()
      .then(() => answerPath(shown(), pathname))
      .then(
        (answer) => send(request, response, answer),
        (error: unknown) => {
          console.error(error);
          plain(response, 500, 'This page could not be made. The terminal says more.');
        },
      );
  };
}

const plain = (response: ServerResponse, status: number, text: string): void =>
  sendBody(response, { status, type: PLAIN, body: `${text}\n` });

function send(request: IncomingMessage, response: ServerResponse, answer: Answer): void {
  if (answer.status === 302) {
    response.statusCode = 302;
    response.setHeader('Location', answer.to);
    response.end();
    return;
  }
  sendBody(response, request.method === 'HEAD' ? { ...answer, body: '' } : answer);
}
