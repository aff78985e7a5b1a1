import type { IncomingMessage, ServerResponse } from 'node:http';

const LOOPBACK = new Set(['127.0.0.1', '::1', '::ffff:127.0.0.1']);
const LOCAL_HOST = /^(?:localhost|127\.0\.0\.1|\[::1\])(?::\d+)?$/i;

/** True for a request that comes from this very computer and asks for it by its own name. */
export const isLocal = (address: string | undefined, host: string | undefined): boolean =>
  address !== undefined && LOOPBACK.has(address) && host !== undefined && LOCAL_HOST.test(host);

/** Keeps the preview to this computer: unpublished drafts are nobody else's business on the network. */
export function localOnly(request: IncomingMessage, response: ServerResponse, next: () => void): void {
  if (isLocal(request.socket.remoteAddress, request.headers.host)) {
    next();
    return;
  }
  response.statusCode = 403;
  response.end('This preview answers only on the computer that it runs on.\n');
}
