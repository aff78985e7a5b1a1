import { join } from 'node:path/posix';
import { type Catalogue, type Facts, type Said, say } from '../units/problem.ts';

/** Every problem that a check of the built site can report. */
export const SITE_PROBLEMS = {
  'broken-link': [
    'A link that leads to no page, or to no place on it.',
    '{address}',
    'a page of the site, or a place on it',
    ['correct the link: the page has no such place{place}', 'correct the link, or publish what it leads to'],
  ],
  'foreign-request': [
    'A page that asks another site for something.',
    '{address}',
    'nothing that is asked of others',
    'carry it in the site itself: whoever opens the page would be seen there',
  ],
  'policy-missing': [
    'A page without a content security policy, or with one that lets others in.',
    ['{policy}', 'no content security policy'],
    'a policy that lets no other site in',
    "let it begin with default-src 'none' and let no other site in",
  ],
  'description-missing': [
    'A page that search engines may list and that says nothing of itself.',
    'no description',
    'a few words on what is there',
    'give the page a description',
  ],
  'private-word': [
    'A word on the site that the brewer keeps to themselves.',
    '"{word}", which is written under private: or names a batch that is not published',
    'nothing that is not published',
    'take it out of what is published, or build the site again',
  ],
  'private-figure': [
    'A figure of a batch whose recipe alone is published.',
    '{figure}, of a batch that is published as a recipe alone',
    'the recipe and nothing else',
    'build the site again',
  ],
} as const satisfies Catalogue;

/** Something on the built site that a visitor must not meet. */
export interface SiteFault extends Said<keyof typeof SITE_PROBLEMS> {
  /** Below the site's folder. */
  readonly file: string;
}

export const siteFault = <C extends keyof typeof SITE_PROBLEMS>(
  file: string,
  code: C,
  ...facts: Facts<(typeof SITE_PROBLEMS)[C]>
): SiteFault => ({ file, ...say(SITE_PROBLEMS, code, ...facts) });

const undone = (text: string): string =>
  text
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&amp;', '&');

/** Values of an attribute anywhere in a tag. */
export function attributesOf(html: string, name: string): string[] {
  const pattern = new RegExp(`<[a-z][^<>]*?\\s${name}\\s*=\\s*(?:"([^"]*)"|'([^']*)')`, 'gi');
  return [...html.matchAll(pattern)].map((match) => undone(match[1] ?? match[2] ?? ''));
}

const SCHEME = /^(?:[a-z][a-z0-9+.-]*:|\/\/)/i;
const decoded = (path: string): string => {
  try {
    return decodeURIComponent(path);
  } catch {
    return path;
  }
};

/** What of the site is there: file paths, and the places that a page's links may lead to. */
export interface SiteFiles {
  readonly paths: ReadonlySet<string>;
  readonly html: ReadonlyMap<string, string>;
  /** Where the site will stand; its own full addresses are links like any other. */
  readonly url: string | null;
}

/** The file that a link leads to, below the site's folder; null where it leaves the site. */
function target(
  page: string,
  href: string,
  url: string | null,
): { path: string; fragment: string | null } | null {
  const own = url !== null && href.startsWith(url) ? href.slice(url.length) : null;
  // The page for addresses that lead nowhere may be shown at any of them: its links begin with the site's own path.
  const rooted = href.startsWith('/') && !href.startsWith('//');
  if (own === null && !rooted && SCHEME.test(href)) return null;
  const [before = '', fragment = null] = (own ?? href).split('#') as [string, string?];
  const plain = decoded(before.split('?')[0] ?? '');
  const prefix = url === null ? '/' : new URL(url).pathname;
  let path = plain;
  if (own === null && rooted) path = plain.startsWith(prefix) ? plain.slice(prefix.length) : `..${plain}`;
  else if (own === null) path = plain === '' ? page : join(page, '..', plain);
  const file = path === '' || path.endsWith('/') || path === '.' ? join(path, 'index.html') : path;
  return { path: file, fragment };
}

/** Links that lead to no file, or to no place in it. */
export function brokenLinks(page: string, html: string, site: SiteFiles): SiteFault[] {
  const faults: SiteFault[] = [];
  for (const href of new Set([...attributesOf(html, 'href'), ...attributesOf(html, 'src')])) {
    const goal = target(page, href, site.url);
    if (goal === null) continue;
    if (!site.paths.has(goal.path)) {
      faults.push(siteFault(page, 'broken-link', { address: href }));
      continue;
    }
    // What a page is to show first is no place in it.
    const { fragment } = goal;
    const there = site.html.get(goal.path);
    if (fragment === null || fragment === '' || fragment.includes('=') || there === undefined) continue;
    if (!attributesOf(there, 'id').includes(decoded(fragment)))
      faults.push(siteFault(page, 'broken-link', { address: href, place: '' }));
  }
  return faults;
}

const POLICY = /<meta http-equiv="Content-Security-Policy" content="([^"]*)"/;
/** Elements whose address is asked for as soon as the page is opened. */
const LOADED = ['src', 'srcset', 'poster', 'data', 'background', 'formaction', 'action'];

function loadedFrom(html: string): string[] {
  const links = [...html.matchAll(/<link\s[^>]*>/gi)]
    .map(([tag]) => tag)
    .filter((tag) => !/rel="(?:canonical|alternate|author|license|me)"/i.test(tag));
  return [
    ...LOADED.flatMap((name) => attributesOf(html, name)),
    ...links.flatMap((tag) => attributesOf(tag, 'href')),
    ...styleAddresses(
      [...html.matchAll(/<style[^>]*>([\s\S]*?)<\/style>/gi)].map((m) => m[1] ?? '').join('\n'),
    ),
  ];
}

export function styleAddresses(css: string): string[] {
  const plain = css.replace(/\/\*[\s\S]*?\*\//g, '');
  return [
    ...[...plain.matchAll(/url\(\s*["']?([^"')]+)["']?\s*\)/gi)].map((m) => m[1] ?? ''),
    ...[...plain.matchAll(/@import\s+["']([^"']+)["']/gi)].map((m) => m[1] ?? ''),
  ];
}

const isForeign = (address: string): boolean =>
  /^(?:[a-z][a-z0-9+.-]*:)?\/\//i.test(address) || /^(?:https?|wss?|ftp):/i.test(address);

/** Addresses of others that a page or a style sheet would ask for by itself. */
export function foreignRequests(file: string, text: string): SiteFault[] {
  const found = file.endsWith('.css') ? styleAddresses(text) : loadedFrom(text);
  return found.filter(isForeign).map((address) => siteFault(file, 'foreign-request', { address }));
}

/** A page without a policy, or with one that lets others in. */
export function loosePolicy(file: string, html: string): SiteFault[] {
  const policy = POLICY.exec(html)?.[1] ?? '';
  const strict = policy.includes("default-src 'none'") && !/https?:|wss?:|\*/.test(policy);
  return strict ? [] : [siteFault(file, 'policy-missing', policy === '' ? {} : { policy })];
}

/** A page that search engines may list and that says nothing of itself. Sheets are for paper. */
export function missingDescription(file: string, html: string): SiteFault[] {
  if (/<html[^>]*\sdata-kind=/.test(html) || /<meta name="robots" content="noindex/.test(html)) return [];
  const description = /<meta name="description" content="([^"]*)"/.exec(html)?.[1]?.trim() ?? '';
  return description === '' ? [siteFault(file, 'description-missing')] : [];
}
