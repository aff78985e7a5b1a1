import { createHash, randomInt, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import { hostname, networkInterfaces } from 'node:os';

const LOOPBACK = new Set(['127.0.0.1', '::1', '::ffff:127.0.0.1']);
const LOCAL_HOST = /^(?:localhost|127\.0\.0\.1|\[::1\])(?::\d+)?$/i;

/** True for a request that comes from this very computer and asks for it by its own name. */
export const isLocal = (address: string | undefined, host: string | undefined): boolean =>
  address !== undefined && LOOPBACK.has(address) && host !== undefined && LOCAL_HOST.test(host);

/** Small letters and digits without those that are taken for each other. */
const LETTERS = '23456789abcdefghjkmnpqrstuvwxyz';
const GROUPS = 3;
const GROUP_LENGTH = 4;

/** A new token in three groups, `k7pm-2xqd-9rtc`: about 59 bits, short enough to be typed on a phone. */
export function newToken(): string {
  const group = () => Array.from({ length: GROUP_LENGTH }, () => LETTERS[randomInt(LETTERS.length)]).join('');
  return Array.from({ length: GROUPS }, group).join('-');
}

/** Compares a token in a time that says nothing of how much of it was right. */
export function isToken(given: string | undefined, token: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return given !== undefined && timingSafeEqual(digest(plainToken(given)), digest(plainToken(token)));
}

const plainToken = (text: string): string =>
  text
    .toLowerCase()
    .replaceAll(/[^a-z0-9]/g, '')
    .slice(0, 64);

/** Names and addresses under which this computer may be asked for in its own network. */
export function ownHosts(): ReadonlySet<string> {
  const addresses = Object.values(networkInterfaces()).flatMap((each) => each ?? []);
  const shown = addresses.map(({ address, family }) =>
    family === 'IPv6' ? `[${address.replace(/%.*/, '')}]` : address,
  );
  const name = hostname().toLowerCase();
  return new Set(['localhost', ...shown, name, `${name}.local`]);
}

const withoutPort = (host: string): string => host.toLowerCase().replace(/:\d+$/, '');

/** Addresses of private networks: IPv4 of RFC 1918 and link-local, IPv6 of RFC 4193 and link-local. */
const PRIVATE =
  /^(?:::ffff:)?(?:10\.|127\.|192\.168\.|169\.254\.|172\.(?:1[6-9]|2\d|3[01])\.)|^(?:::1$|f[cd][0-9a-f]{2}:|fe[89ab][0-9a-f]:)/i;

/**
 * True for a request that may be answered at all: from this computer and to it by its own name, so that no name that
 * was bent to point here will do; with `lan`, from the private network too, and by this computer's own addresses.
 */
export function mayAsk(
  request: Pick<IncomingMessage, 'headers'> & {
    readonly socket: { readonly remoteAddress?: string | undefined };
  },
  lan: ReadonlySet<string> | null,
): boolean {
  const { remoteAddress } = request.socket;
  const { host } = request.headers;
  if (isLocal(remoteAddress, host)) return true;
  if (lan === null || remoteAddress === undefined || host === undefined) return false;
  return PRIVATE.test(remoteAddress) && lan.has(withoutPort(host));
}

/** True for a request to write that a page of this very server has made. */
export function isSameOrigin({ headers }: Pick<IncomingMessage, 'headers'>): boolean {
  const site = headers['sec-fetch-site'];
  if (site !== undefined && site !== 'same-origin') return false;
  if (headers.origin === undefined) return site === 'same-origin';
  return headers.origin.toLowerCase() === `http://${headers.host?.toLowerCase()}`;
}
