import type { IncomingMessage, ServerResponse } from 'node:http';
import { join } from 'node:path';
import type { Environment } from 'nunjucks';
import { type ArchiveMemory, createArchiveMemory } from '../../archive/read-batches.ts';
import { writeWhole } from '../../archive/write/write-whole.ts';
import type { SaveReply, SaveRequest } from '../../browser/key-in/data.ts';
import { readKeyedFile } from '../../key-in/file.ts';
import { createNunjucks } from '../nunjucks.ts';
import { isSameOrigin, isToken, mayAsk } from '../preview/guard.ts';
import { addressOf, HTML, type Middleware, PLAIN, sendBody } from '../preview/http.ts';
import { fermentationWords, outcomeLines } from './outcome.ts';
import { formPage, pageData, plainPage } from './page.ts';
import { beginSession, type Kit, readKit, type Session, saveKeyed } from './session.ts';

export interface HandlerOptions {
  readonly contentDir: string;
  readonly token: string;
  /** Names of this computer in its network where others may ask; null where only this computer may. */
  readonly lan: ReadonlySet<string> | null;
  /** Where sheets are printed to, each batch in a folder of its own. */
  readonly printedTo?: readonly string[];
  /** Templates and what is kept of files, where somebody has them already. */
  readonly kept?: () => { readonly environment: Environment; readonly reads: ArchiveMemory };
}

/** What is sent back. */
interface Answered {
  readonly status: number;
  readonly html?: string;
  readonly text?: string;
  readonly json?: SaveReply;
  readonly to?: string;
  readonly cookie?: string;
  readonly close?: boolean;
}

const ROUTE = /^\/batches\/([^/]+)\/key-in(\/(?:index\.html)?)?$/;
const COOKIE = 'kettleside-code';
const KIT_FRESH_MS = 2000;
/** What was keyed in of a whole batch is a few kilobytes, a straightened page some hundred. */
const MOST_BYTES = { readings: 64 * 1024, page: 4 * 1024 * 1024 };
const KEPT_PAGE = /^sheet-(?:kettle|cellar|card)-\d{1,2}\.jpg$/;
/** Nobody keys in more at a time. */
const MOST_LINES = 3000;

/** Answers the page on which readings are keyed in, and what it sends; everything else goes on to the next handler. */
export function keyInHandler(options: HandlerOptions): Middleware {
  const kept = options.kept ?? ownKept();
  const kit = keptFor(KIT_FRESH_MS, () => readKit(options.contentDir, options.printedTo, kept().reads));
  return (request, response, next) => {
    const url = addressOf(request.url);
    const route = ROUTE.exec(url.pathname);
    if (route === null) {
      next();
      return;
    }
    answer({ options, environment: kept().environment, kit, request, url, route }).then(
      (answered) => send(response, answered),
      (error: unknown) => {
        // Whoever broke off is not there any more to be told, and nothing of it was a fault here.
        if (request.socket.destroyed) return;
        console.error(error);
        const text = 'Something went wrong, and nothing was saved. The terminal says more.\n';
        send(response, { status: 500, text });
      },
    );
  };
}

function ownKept(): NonNullable<HandlerOptions['kept']> {
  const own = { environment: createNunjucks(), reads: createArchiveMemory() };
  return () => own;
}

interface Asked {
  readonly options: HandlerOptions;
  readonly environment: Environment;
  readonly kit: () => Promise<Kit>;
  readonly request: IncomingMessage;
  readonly url: URL;
  readonly route: RegExpExecArray;
}

async function answer(asked: Asked): Promise<Answered> {
  const { options, environment, request, url, route } = asked;
  if (!mayAsk(request, options.lan))
    return plain(403, 'Readings are keyed in on the computer that holds them.');
  const slug = decoded(route[1] ?? '');
  if (slug === null) return plain(404, 'There is no batch of that name.');
  const post = request.method === 'POST';
  if (!post && request.method !== 'GET' && request.method !== 'HEAD') return plain(405, 'Only GET and POST.');
  if (post && !isSameOrigin(request)) return plain(403, 'Only a page of this server may save readings.');
  if (post) return answerPost(asked, slug);
  if (route[2] === undefined) return { status: 303, to: `${url.pathname}/${url.search}` };
  const kit = await asked.kit();
  const code = url.searchParams.get('code') ?? undefined;
  // A link with the code in it loses it.
  if (isToken(code, options.token)) return { status: 303, to: url.pathname, cookie: cookieFor(options) };
  const say = (status: number, text: Parameters<typeof plainPage>[3]) => ({
    status,
    html: plainPage(environment, kit, pathBelow(url), text),
  });
  if (code !== undefined || !isToken(cookieOf(request), options.token))
    return say(403, { wrongCode: code !== undefined });
  const begun = beginSession(kit, slug);
  if (!begun.ok) return say(begun.missing ? 404 : 409, { message: begun.why });
  return { status: 200, html: formPage(environment, begun.session, 'server') };
}

/** The code of the run as a small form of its own sends it, or readings as the form's script sends them. */
async function answerPost(
  { options, environment, kit, request, url }: Asked,
  slug: string,
): Promise<Answered> {
  const type = request.headers['content-type'] ?? '';
  if (type === 'image/jpeg') return keepPage({ options, kit, request, url }, slug);
  const coded = /^application\/x-www-form-urlencoded\b/i.test(type);
  if (!coded && !/^application\/json\b/i.test(type)) return plain(415, 'Only readings are taken here.', true);
  const body = (await bodyOf(request, MOST_BYTES.readings))?.toString('utf8');
  if (body === undefined) return plain(413, 'That is more than a batch has readings.', true);
  const sent = coded ? { keyed: '', code: new URLSearchParams(body).get('token') ?? '' } : readRequest(body);
  if (sent === null) return plain(400, 'That is no file of readings.');
  if (!isToken(sent.code ?? cookieOf(request), options.token)) {
    if (!coded) return { status: 403, json: { kind: 'code' } };
    const html = plainPage(environment, await kit(), pathBelow(url), { wrongCode: true });
    return { status: 403, html };
  }
  const cookie = cookieFor(options);
  if (coded) return { status: 303, to: url.pathname, cookie };
  const begun = beginSession(await kit(), slug);
  if (!begun.ok) return refused(begun.missing ? 404 : 409, [begun.why]);
  return { ...(await save(begun.session, sent)), cookie };
}

/** Keeps a photographed page, straightened, beside the batch: private, until the batch names it among its pictures. */
async function keepPage(
  { options, kit, request, url }: Omit<Asked, 'route' | 'environment'>,
  slug: string,
): Promise<Answered> {
  const name = url.searchParams.get('sheet') ?? '';
  if (!isToken(cookieOf(request), options.token))
    return plain(403, 'Load the page anew: it asks for the code.', true);
  if (!KEPT_PAGE.test(name)) return plain(400, 'That is no page of a sheet.', true);
  const begun = beginSession(await kit(), slug);
  if (!begun.ok) return plain(begun.missing ? 404 : 409, begun.why, true);
  const jpeg = await bodyOf(request, MOST_BYTES.page);
  if (jpeg?.subarray(0, 2).toString('hex') !== 'ffd8')
    return plain(413, 'That is no picture of a page.', true);
  const path = join(options.contentDir, 'batches', slug, name);
  await writeWhole(path, jpeg);
  return plain(200, `Kept as ${name} in the folder of the batch, private until the batch names it.`);
}

const refused = (status: number, why: readonly string[]): Answered => ({
  status,
  json: { kind: 'refused', why },
});

async function save(session: Session, { keyed }: SaveRequest): Promise<Answered> {
  const file = readKeyedFile(keyed);
  if ('fault' in file) return refused(422, [file.fault]);
  const { slug } = session;
  if (file.slug !== slug || file.lines.length > MOST_LINES)
    return refused(422, [`These are no readings of ${slug}.`]);
  const saved = await saveKeyed(session, file);
  if (saved.kind === 'refused') return refused(422, saved.why);
  const after = beginSession(session, slug);
  if (!after.ok) return refused(409, [after.why]);
  const data = pageData(after.session, 'server');
  if (saved.kind === 'clash') return { status: 409, json: { kind: 'changed', data } };
  const lines = outcomeLines(saved.before, after.session, saved.answers);
  const fermentation = fermentationWords(after.session);
  return { status: 200, json: { kind: 'saved', lines, fermentation, data } };
}

function readRequest(body: string): SaveRequest | null {
  try {
    const sent: unknown = JSON.parse(body);
    if (typeof sent !== 'object' || sent === null || !('keyed' in sent)) return null;
    const { keyed, code } = sent as { readonly keyed: unknown; readonly code?: unknown };
    if (typeof keyed !== 'string') return null;
    return typeof code === 'string' ? { keyed, code } : { keyed };
  } catch {
    return null;
  }
}

/** What a request brings, or null as soon as it is more than allowed; what is left is not read. */
function bodyOf(request: IncomingMessage, most: number): Promise<Buffer | null> {
  return new Promise((resolve, reject) => {
    if (Number(request.headers['content-length'] ?? 0) > most) {
      resolve(null);
      return;
    }
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

const plain = (status: number, text: string, close = false): Answered => ({
  status,
  text: `${text}\n`,
  close,
});

function decoded(name: string): string | null {
  try {
    return decodeURIComponent(name);
  } catch {
    return null;
  }
}

const pathBelow = (url: URL): string =>
  `${url.pathname.slice(1).replace(/\/?(?:index\.html)?$/, '')}/index.html`;

const cookieFor = ({ token }: HandlerOptions): string =>
  `${COOKIE}=${token}; Path=/batches/; HttpOnly; SameSite=Strict`;

function cookieOf({ headers }: IncomingMessage): string | undefined {
  const pairs = (headers.cookie ?? '').split(';').map((pair) => pair.trim());
  return pairs.find((pair) => pair.startsWith(`${COOKIE}=`))?.slice(COOKIE.length + 1);
}

/** Keeps what took long to read for a short while, and reads it once for all who ask meanwhile. */
function keptFor<T>(ms: number, read: () => Promise<T>): () => Promise<T> {
  let kept: { readonly at: number; readonly value: Promise<T> } | null = null;
  return () => {
    if (kept === null || Date.now() - kept.at > ms) kept = { at: Date.now(), value: read() };
    return kept.value;
  };
}

function send(response: ServerResponse, answered: Answered): void {
  const { status, html, json, text = '' } = answered;
  response.setHeader('Referrer-Policy', 'same-origin');
  response.setHeader('X-Frame-Options', 'DENY');
  if (answered.cookie !== undefined) response.setHeader('Set-Cookie', answered.cookie);
  if (answered.to !== undefined) response.setHeader('Location', answered.to);
  if (answered.close === true) response.setHeader('Connection', 'close');
  const type = html !== undefined ? HTML : json !== undefined ? 'application/json; charset=utf-8' : PLAIN;
  sendBody(response, { status, type, body: html ?? (json === undefined ? text : JSON.stringify(json)) });
}
