import type { IncomingMessage, ServerResponse } from 'node:http';
import { join } from 'node:path';
import type { Environment } from 'nunjucks';
import { type ArchiveMemory, createArchiveMemory } from '../../archive/read-batches.ts';
import { writeWhole } from '../../archive/write/write-whole.ts';
import { READINGS_TYPE, type SaveReply } from '../../browser/key-in/data.ts';
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

interface Answered {
  readonly status: number;
  readonly type: string;
  readonly body: string;
  readonly headers?: Readonly<Record<string, string>>;
}

const ROUTE = /^\/batches\/([^/]+)\/key-in(\/(?:index\.html)?)?$/;
const COOKIE = 'kettleside-code';
const KIT_FRESH_MS = 2000;
/** What was keyed in of a whole batch is a few kilobytes, a straightened page some hundred. */
const MOST_BYTES = { readings: 64 * 1024, page: 4 * 1024 * 1024 };
const KEPT_PAGE = /^sheet-(?:kettle|cellar|card)-\d{1,2}\.jpg$/;
/** Nobody keys in more at a time. */
const MOST_LINES = 3000;

const page = (status: number, body: string): Answered => ({ status, type: HTML, body });
const plain = (status: number, text: string): Answered => ({ status, type: PLAIN, body: `${text}\n` });
/** What is left of a body that nobody reads would be taken for the next request. */
const unread = (status: number, text: string): Answered => ({
  ...plain(status, text),
  headers: { Connection: 'close' },
});
const reply = (status: number, json: SaveReply): Answered => ({
  status,
  type: 'application/json; charset=utf-8',
  body: JSON.stringify(json),
});
const refused = (status: number, ...why: readonly string[]): Answered =>
  reply(status, { kind: 'refused', why });

/** Answers the page on which readings are keyed in, and what it sends; everything else goes on to the next handler. */
export function keyInHandler(options: HandlerOptions): Middleware {
  const own = { environment: createNunjucks(), reads: createArchiveMemory() };
  const kept = options.kept ?? (() => own);
  const kit = keptFor(KIT_FRESH_MS, () => readKit(options.contentDir, options.printedTo, kept().reads));
  return (request, response, next) => {
    const url = addressOf(request.url);
    const route = ROUTE.exec(url.pathname);
    if (route === null) {
      next();
      return;
    }
    const answered = async (): Promise<Answered> => {
      if (!mayAsk(request, options.lan))
        return plain(403, 'Readings are keyed in on the computer that holds them.');
      const { environment } = kept();
      const [, slug = '', rest] = route;
      return answer({ options, environment, kit: await kit(), request, url, slug }, rest !== undefined);
    };
    answered().then(
      (made) => send(response, made),
      (error: unknown) => {
        // Whoever broke off is not there any more, and nothing of it was a fault here.
        if (request.socket.destroyed) return;
        console.error(error);
        send(response, plain(500, 'Something went wrong, and nothing was saved. The terminal says more.'));
      },
    );
  };
}

interface Asked {
  readonly options: HandlerOptions;
  readonly environment: Environment;
  readonly kit: Kit;
  readonly request: IncomingMessage;
  readonly url: URL;
  readonly slug: string;
}

async function answer(asked: Asked, inForm: boolean): Promise<Answered> {
  const { options, environment, kit, request, url, slug } = asked;
  if (request.method === 'POST')
    return isSameOrigin(request)
      ? answerPost(asked)
      : plain(403, 'Only a page of this server may save readings.');
  if (request.method !== 'GET' && request.method !== 'HEAD') return plain(405, 'Only GET and POST.');
  if (!inForm) return toPage(`${url.pathname}/${url.search}`);
  const code = url.searchParams.get('code');
  // A link with the code in it loses it.
  if (code !== null && isToken(code, options.token)) return toPage(url.pathname, options.token);
  if (code !== null || !isToken(cookieOf(request), options.token)) return codePage(asked, code !== null);
  const begun = beginSession(kit, slug);
  if (begun.ok) return page(200, formPage(environment, begun.session, 'server'));
  return page(statusOf(begun), plainPage(environment, kit, pathBelow(url), { message: begun.why }));
}

const statusOf = ({ missing }: { readonly missing: boolean }): number => (missing ? 404 : 409);

const toPage = (to: string, token?: string): Answered => ({
  ...plain(303, ''),
  headers: { Location: to, ...(token === undefined ? {} : cookieFor(token)) },
});

const codePage = ({ environment, kit, url }: Asked, wrongCode: boolean): Answered =>
  page(403, plainPage(environment, kit, pathBelow(url), { wrongCode }));

/** The code of the run as its page sends it, or readings as the form's script sends them. */
async function answerPost(asked: Asked): Promise<Answered> {
  const { options, kit, request, url, slug } = asked;
  const type = request.headers['content-type'] ?? '';
  if (type === 'image/jpeg') return keepPage(asked);
  const coded = /^application\/x-www-form-urlencoded\b/i.test(type);
  if (!coded && type !== READINGS_TYPE) return unread(415, 'Only readings are taken here.');
  const body = (await bodyOf(request, MOST_BYTES.readings))?.toString('utf8');
  if (body === undefined) return unread(413, 'That is more than a batch has readings.');
  if (coded) {
    const right = isToken(new URLSearchParams(body).get('token') ?? '', options.token);
    return right ? toPage(url.pathname, options.token) : codePage(asked, true);
  }
  if (!isToken(cookieOf(request), options.token))
    return refused(
      403,
      'The server has started again and asks for its code.',
      'Open this page in another tab, enter the code there, and save here once more.',
    );
  const begun = beginSession(kit, slug);
  return begun.ok
    ? { ...(await save(begun.session, body)), headers: cookieFor(options.token) }
    : refused(statusOf(begun), begun.why);
}

/** Keeps a photographed page, straightened, beside the batch: private, until the batch names it among its pictures. */
async function keepPage({ options, kit, request, url, slug }: Asked): Promise<Answered> {
  const name = url.searchParams.get('sheet') ?? '';
  if (!isToken(cookieOf(request), options.token))
    return unread(403, 'Not kept: load the page again, it asks for the code.');
  if (!KEPT_PAGE.test(name)) return unread(400, 'Not kept: it is not a page of a sheet.');
  const begun = beginSession(kit, slug);
  if (!begun.ok) return unread(statusOf(begun), begun.why);
  const jpeg = await bodyOf(request, MOST_BYTES.page);
  if (jpeg?.subarray(0, 2).toString('hex') !== 'ffd8')
    return unread(413, 'Not kept: it is not a picture of a page.');
  await writeWhole(join(options.contentDir, 'batches', slug, name), jpeg);
  return plain(200, `Kept as ${name} in the folder of the batch, private until the batch names it.`);
}

async function save(session: Session, keyed: string): Promise<Answered> {
  const { slug } = session;
  const file = readKeyedFile(keyed);
  if ('fault' in file) return refused(422, file.fault);
  if (file.slug !== slug || file.lines.length > MOST_LINES)
    return refused(422, `These are not readings of ${slug}.`);
  const saved = await saveKeyed(session, file);
  if (saved.kind === 'refused') return refused(422, ...saved.why);
  if (saved.kind === 'clash') {
    const now = beginSession(session, slug);
    return now.ok
      ? reply(409, { kind: 'changed', data: pageData(now.session, 'server') })
      : refused(409, now.why);
  }
  const { before, answers, after } = saved;
  const lines = outcomeLines(before, after, answers);
  const fermentation = fermentationWords(after);
  return reply(200, { kind: 'saved', lines, fermentation, data: pageData(after, 'server') });
}

/** What a request brings, or null as soon as it is more than allowed; what is left is not read. */
async function bodyOf(request: IncomingMessage, most: number): Promise<Buffer | null> {
  if (Number(request.headers['content-length'] ?? 0) > most) return null;
  const chunks: Buffer[] = [];
  let length = 0;
  for await (const chunk of request.iterator({ destroyOnReturn: false })) {
    length += (chunk as Buffer).length;
    if (length > most) return null;
    chunks.push(chunk as Buffer);
  }
  return Buffer.concat(chunks);
}

const pathBelow = (url: URL): string =>
  `${url.pathname.slice(1).replace(/\/?(?:index\.html)?$/, '')}/index.html`;

const cookieFor = (token: string): Readonly<Record<string, string>> => ({
  'Set-Cookie': `${COOKIE}=${token}; Path=/batches/; HttpOnly; SameSite=Strict`,
});

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

function send(response: ServerResponse, { headers = {}, ...body }: Answered): void {
  const all = { 'Referrer-Policy': 'same-origin', 'X-Frame-Options': 'DENY', ...headers };
  for (const [name, value] of Object.entries(all)) response.setHeader(name, value);
  sendBody(response, body);
}
