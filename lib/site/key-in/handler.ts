import type { IncomingMessage, ServerResponse } from 'node:http';
import type { Environment } from 'nunjucks';
import { type ArchiveMemory, createArchiveMemory } from '../../archive/read-batches.ts';
import { createNunjucks } from '../nunjucks.ts';
import { isSameOrigin, isToken, mayAsk } from '../preview/guard.ts';
import { addressOf, HTML, type Middleware, PLAIN, sendBody } from '../preview/http.ts';
import { type Body, readBody } from './body.ts';
import { gatePage, messagePage } from './pages.ts';
import { type Answered, answerForm, answerLog, showForm, showLog, showSaved } from './routes.ts';
import { beginSession, type Kit, readKit } from './session.ts';

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

const ROUTE = /^\/batches\/([^/]+)\/key-in(\/(?:(log|saved)\/?)?(?:index\.html)?)?$/;
const COOKIE = 'kettleside-code';
const KIT_FRESH_MS = 2000;

/** Answers the pages on which readings are keyed in; everything else goes on to the next handler. */
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
        send(response, {
          status: 500,
          text: 'Something went wrong, and nothing was saved. The terminal says more.\n',
        });
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
  const { options, request, url, route } = asked;
  if (!mayAsk(request, options.lan))
    return plain(403, 'Readings are keyed in on the computer that holds them.');
  const [, name = '', slash] = route;
  const slug = decoded(name);
  if (slug === null) return plain(404, 'There is no batch of that name.');
  const post = request.method === 'POST';
  if (!post && request.method !== 'GET' && request.method !== 'HEAD') return plain(405, 'Only GET and POST.');
  if (post && !isSameOrigin(request)) return plain(403, 'Only a page of this server may save readings.');
  const body: Body = post ? await readBody(request) : { ok: true, fields: new Map() };
  if (!body.ok) return plain(body.status, body.why, true);
  if (!post && slash === undefined) return moved(`${url.pathname}/${url.search}`);
  const kit = await asked.kit();
  const gate = gated(asked, kit, body.fields, post);
  if (gate.kind === 'stop') return gate.answer;
  const answered = await answerBehindGate(asked, kit, slug, body.fields);
  return gate.cookie === null ? answered : { ...answered, cookie: gate.cookie };
}

async function answerBehindGate(
  { environment, request, url, route }: Asked,
  kit: Kit,
  slug: string,
  fields: ReadonlyMap<string, string>,
): Promise<Answered> {
  const post = request.method === 'POST';
  const page = route[3];
  const begun = beginSession(kit, slug);
  if (!begun.ok) {
    const html = messagePage(environment, kit, pathBelow(url), begun.why);
    return { status: begun.missing ? 404 : 409, html };
  }
  const { session } = begun;
  const twice = url.searchParams.get('twice') === '1' || fields.get('twice') === '1';
  const context = { environment, session, fields, twice, url };
  if (page === 'log') return post ? answerLog(context) : showLog(context);
  if (page === 'saved') return post ? plain(405, 'Nothing is saved here.') : showSaved(context);
  return post ? answerForm(context) : showForm(context);
}

const plain = (status: number, text: string, close = false): Answered => ({
  status,
  text: `${text}\n`,
  close,
});
const moved = (to: string): Answered => ({ status: 303, to });

function decoded(name: string): string | null {
  try {
    return decodeURIComponent(name);
  } catch {
    return null;
  }
}

const pathBelow = (url: URL): string =>
  `${url.pathname.slice(1).replace(/\/?(?:index\.html)?$/, '')}/index.html`;

type Gate =
  | { readonly kind: 'stop'; readonly answer: Answered }
  | { readonly kind: 'go on'; readonly cookie: string | null };

/** Lets through whoever has the code; asks everybody else for it. */
function gated(
  { options, environment, request, url }: Asked,
  kit: Kit,
  fields: ReadonlyMap<string, string>,
  post: boolean,
): Gate {
  const given = fields.get('token') ?? url.searchParams.get('code') ?? undefined;
  if (given === undefined && isToken(cookieOf(request), options.token))
    return { kind: 'go on', cookie: null };
  if (!isToken(given, options.token)) {
    const html = gatePage(environment, kit, pathBelow(url), fields, given !== undefined);
    return { kind: 'stop', answer: { status: 403, html } };
  }
  const cookie = `${COOKIE}=${options.token}; Path=/batches/; HttpOnly; SameSite=Strict`;
  // A form that was sent without the code, and then with it, goes on; a link with the code in it loses it.
  const carried = [...fields.keys()].some((name) => name !== 'token' && name !== 'do');
  if (post && carried) return { kind: 'go on', cookie };
  return { kind: 'stop', answer: { status: 303, to: url.pathname, cookie } };
}

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
  response.setHeader('Referrer-Policy', 'same-origin');
  response.setHeader('X-Frame-Options', 'DENY');
  if (answered.cookie !== undefined) response.setHeader('Set-Cookie', answered.cookie);
  if (answered.to !== undefined) response.setHeader('Location', answered.to);
  if (answered.close === true) response.setHeader('Connection', 'close');
  const { status, html, text = '' } = answered;
  sendBody(
    response,
    html === undefined ? { status, type: PLAIN, body: text } : { status, type: HTML, body: html },
  );
}
