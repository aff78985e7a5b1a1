import { existsSync, readFileSync } from 'node:fs';
import { join, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { SheetKind } from '../paper/render-input.ts';

/** The program's own folder, wherever it was put: code, templates, tables. Nothing of a brewer's is ever written there. */
export const ROOT = fileURLToPath(new URL('../../', import.meta.url));
export const TABLES = fileURLToPath(new URL('../../shared/', import.meta.url));
/** Weights of the network that reads digits. */
export const NET = fileURLToPath(new URL('../photo/net.bin', import.meta.url));
export const TEMPLATES = fileURLToPath(new URL('../../templates/', import.meta.url));
export const PAGES = fileURLToPath(new URL('../../templates/pages/', import.meta.url));

/** Whether the current folder is the program's own, as `npm run` does in a clone: `content/` is the demo there. */
export const IN_CLONE = resolve() === resolve(ROOT);
/** In a clone, the file whose one line says where the brewer's own folder is. */
export const SIGNPOST = join(ROOT, '.own-folder');

/** The folder with the brewer's files: the current one, or in a clone the one that `begin` made. */
export const BREWER = IN_CLONE && existsSync(SIGNPOST) ? readFileSync(SIGNPOST, 'utf8').trim() : '';

/** A folder for what can be made again. */
export const cacheFolder = (name: string): string => resolve(BREWER, '.cache', name);

/** A path as globs and the site generator take it: on Windows a backslash would be an escape there. */
export const withSlashes = (path: string, separator: string = sep): string => path.split(separator).join('/');

/** The brewer's files, for a watcher. */
export const contentGlob = (contentDir: string): string =>
  `${withSlashes(contentDir)}/**/*.{md,yaml,yml,jpg,jpeg,png,webp}`;

/** File names of the sheets beside a batch's page, without their ending. */
export const SHEET_FILES = ['kettle-sheet', 'cellar-sheet', 'recipe-card'] as const;
export type SheetFile = (typeof SHEET_FILES)[number];

const KIND_OF_FILE: { readonly [F in SheetFile]: SheetKind } = {
  'kettle-sheet': 'kettle',
  'cellar-sheet': 'cellar',
  'recipe-card': 'card',
};
export const sheetKindOf = (file: SheetFile): SheetKind => KIND_OF_FILE[file];

const SAFE_SLUG = /^[\p{L}\p{N}][\p{L}\p{N}._-]*$/u;

/** True where a slug is one plain folder name: no separator, no dot in front, nothing that climbs out. */
export const isSafeSlug = (slug: string): boolean => SAFE_SLUG.test(slug) && !slug.includes('..');

/** Guards every path that is made from a slug; a slug that reaches this unchecked is a bug, not a mistake. */
export function safeSlug(slug: string): string {
  if (!isSafeSlug(slug))
    throw new Error(`A slug that is no plain folder name reached the site: ${JSON.stringify(slug)}`);
  return slug;
}

export const LIST_PATH = 'index.html';
export const ABOUT_PATH = 'about/index.html';
export const MESSAGES_PATH = 'about/messages/index.html';
export const MISSING_PATH = '404.html';
/** The page of a batch and that of its recipe, below the top folder. */
export const batchPath = (slug: string): string => `batches/${safeSlug(slug)}/index.html`;
export const recipePath = (slug: string): string => `recipes/${safeSlug(slug)}/index.html`;
/** Where the feeds and the sitemap lie, below the top folder. */
export const ATOM_PATH = 'feed.xml';
export const JSON_FEED_PATH = 'feed.json';
export const SITEMAP_PATH = 'sitemap.xml';
