/**
 * The address that a request asks for, on this server; never throws. `//` would be the beginning of another host, and a request
 * may name anything at all: what is no path is the top folder.
 */
export function addressOf(asked: string | undefined): URL {
  const path = asked?.startsWith('/') ? asked.replace(/^\/+/, '/') : '/';
  return new URL(`http://localhost${path}`);
}
