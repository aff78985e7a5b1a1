import { join } from 'node:path/posix';

/** Something on the built site that a visitor must not meet. */
export interface SiteFault {
  /** Below the site's folder. */
  readonly file: string;
  readonly code:
    | 'broken-link'
    | 'description-missing'
    | 'foreign-request'
    | 'policy-missing'
    | 'private-figure'
    | 'private-word';
  readonly found: string;
  readonly mend: string;
}

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
    const fault = (mend: string): void => {
      faults.push({ file: page, code: 'broken-link', found: href, mend });
    };
    if (!site.paths.has(goal.path)) {
      fault('correct the link, or publish what it leads to');
      continue;
    }
    // What a page is to show first is no place in it.
    const { fragment } = goal;
    const there = site.html.get(goal.path);
    if (fragment === null || fragment === '' || fragment.includes('=') || there === undefined) continue;
    if (!attributesOf(there, 'id').includes(decoded(fragment))) fault('the page has no such place');
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
  return found.filter(isForeign).map((address) => ({
    file,
    code: 'foreign-request',
    found: address,
    mend: 'carry it in the site itself: whoever opens the page would be seen there',
  }));
}

/** A page without a policy, or with one that lets others in. */
export function loosePolicy(file: string, html: string): SiteFault[] {
  const policy = POLICY.exec(html)?.[1] ?? '';
  const strict = policy.includes("default-src 'none'") && !/https?:|wss?:|\*/.test(policy);
  return strict
    ? []
    : [
        {
          file,
          code: 'policy-missing',
          found: policy === '' ? 'no content security policy' : policy,
          mend: "let it begin with default-src 'none' and name nobody else",
        },
      ];
}

/** A page that search engines may list and that says nothing of itself. Sheets are for paper. */
export function missingDescription(file: string, html: string): SiteFault[] {
  if (/<html[^>]*\sdata-kind=/.test(html) || /<meta name="robots" content="noindex/.test(html)) return [];
  const description = /<meta name="description" content="([^"]*)"/.exec(html)?.[1]?.trim() ?? '';
  if (description !== '') return [];
  return [
    { file, code: 'description-missing', found: 'no description', mend: 'give the page a description' },
  ];
}
