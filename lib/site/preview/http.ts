import type { IncomingMessage, ServerResponse } from 'node:http';

/** Answers a request, or hands it on. */
export type Middleware = (request: IncomingMessage, response: ServerResponse, next: () => void) => void;

/** With every answer: it is kept nowhere, is what it says it is, and no page of another site may take it in. */
const HEADERS = {
  'Cache-Control': 'no-store',
  'X-Content-Type-Options': 'nosniff',
  'Cross-Origin-Resource-Policy': 'same-origin',
};

/**
 * Sends a body as bytes, which the server of the site generator leaves as they are: into a text it would put a script that loads
 * the page again, also while somebody types.
 */
export function sendBody(
  response: ServerResponse,
  answer: { readonly status: number; readonly type: string; readonly body: string | Uint8Array },
): void {
  response.statusCode = answer.status;
  for (const [name, value] of Object.entries(HEADERS)) response.setHeader(name, value);
  response.setHeader('Content-Type', answer.type);
  response.end(Buffer.from(answer.body));
}

export const PLAIN = 'text/plain; charset=utf-8';
export const HTML = 'text/html; charset=utf-8';

/**
 * The address that a request asks for, on this server; never throws. `//` would be the beginning of another host, and a request
 * may name anything at all: what is no path is the top folder.
 */
export function addressOf(asked: string | undefined): URL {
  const path = asked?.startsWith('/') ? asked.replace(/^\/+/, '/') : '/';
  return new URL(`http://localhost${path}`);
}
