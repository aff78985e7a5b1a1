import type { IncomingMessage } from 'node:http';

/** A filled-in form is a few kilobytes. */
export const MAX_BODY_BYTES = 64 * 1024;
const MAX_FIELDS = 3000;

export type Body =
  | { readonly ok: true; readonly fields: ReadonlyMap<string, string> }
  | { readonly ok: false; readonly status: 400 | 413 | 415; readonly why: string };

/** Reads a posted form; one that is too large is refused as soon as that is known, the rest of it unread. */
export async function readBody(request: IncomingMessage): Promise<Body> {
  const type = request.headers['content-type'] ?? '';
  if (!/^application\/x-www-form-urlencoded\b/i.test(type)) {
    return { ok: false, status: 415, why: 'Only a filled-in form is taken here.' };
  }
  const tooLarge: Body = { ok: false, status: 413, why: 'That is more than a filled-in form holds.' };
  if (Number(request.headers['content-length'] ?? 0) > MAX_BODY_BYTES) return tooLarge;
  const bytes = await upTo(MAX_BODY_BYTES, request);
  if (bytes === null) return tooLarge;
  const pairs = [...new URLSearchParams(bytes.toString('utf8'))];
  if (pairs.length > MAX_FIELDS) return { ok: false, status: 400, why: 'That form has too many fields.' };
  return { ok: true, fields: new Map(pairs) };
}

/** The bytes of a request, or null as soon as they are more than allowed; what is left is not read. */
function upTo(most: number, request: IncomingMessage): Promise<Buffer | null> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    let length = 0;
    request.on('data', (chunk: Buffer) => {
      length += chunk.length;
      if (length > most) {
        request.pause();
        resolve(null);
      } else {
        chunks.push(chunk);
      }
    });
    request.on('end', () => resolve(Buffer.concat(chunks)));
    request.on('error', reject);
  });
}
