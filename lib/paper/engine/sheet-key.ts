/** One name for everything that a printed sheet depends on. */

import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { dirname, relative } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { installInPage } from './in-page.ts';
import { LAUNCH_ARGS } from './launch-browser.ts';
import type { Paper } from './sheet.ts';
import { PDF_OPTIONS } from './tab.ts';

/**
 * How this engine prints. The number is to be counted up when the bytes of a PDF are settled in another way;
 * all else speaks for itself.
 */
const ENGINE = JSON.stringify(['sheets 3', PDF_OPTIONS, LAUNCH_ARGS, installInPage.toString()]);

const ASSET =
  /<(?:script|img|link|source|image|use|embed|object|iframe|video|audio|track)\b[^>]*?\s(?:src|href|data|poster)\s*=\s*(?:"([^"]*)"|'([^']*)'|([^\s>]+))/gi;
const STYLE_URL = /url\(\s*(?:"([^"]*)"|'([^']*)'|([^)\s]+))\s*\)/gi;

/** The local files that a sheet loads, in the order of their names. */
export function assetsOf(html: string, htmlPath: string): string[] {
  const base = pathToFileURL(htmlPath);
  const found = new Set<string>();
  for (const pattern of [ASSET, STYLE_URL]) {
    for (const match of html.matchAll(pattern)) {
      const path = localPath(match[1] ?? match[2] ?? match[3] ?? '', base);
      if (path !== undefined) found.add(path);
    }
  }
  return [...found].sort();
}

function localPath(reference: string, base: URL): string | undefined {
  if (reference === '' || reference.startsWith('#') || !URL.canParse(reference, base)) return undefined;
  const url = new URL(reference.replaceAll('&amp;', '&'), base);
  url.search = '';
  url.hash = '';
  return url.protocol === 'file:' ? fileURLToPath(url) : undefined;
}

/** Remembers the digests of assets during one run: many sheets share the same few files. */
export class AssetDigests {
  readonly #known = new Map<string, Promise<string>>();

  of(path: string): Promise<string> {
    const known = this.#known.get(path);
    if (known) return known;
    const digest = readFile(path).then(sha256, () => 'missing');
    this.#known.set(path, digest);
    return digest;
  }
}

/**
 * The cache key of a sheet: SHA-256 over the HTML, the bytes of the files it loads, the paper, the browser's
 * version, and how this engine prints. Where the sheet lies is no part of it.
 */
export async function sheetKey(
  sheet: { html: string; htmlPath: string; paper: Paper },
  browser: string,
  digests: AssetDigests,
): Promise<string> {
  const hash = createHash('sha256');
  hash.update(JSON.stringify([ENGINE, browser, sheet.paper]));
  hash.update(sheet.html);
  const folder = dirname(sheet.htmlPath);
  for (const path of assetsOf(sheet.html, sheet.htmlPath)) {
    hash.update(JSON.stringify([relative(folder, path), await digests.of(path)]));
  }
  return hash.digest('hex');
}

export function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
