import { sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { SheetKind } from '../paper/render-input.ts';

/** The project's own folder, wherever it was put. */
export const ROOT = fileURLToPath(new URL('../../', import.meta.url));
export const TEMPLATES = fileURLToPath(new URL('../../templates/', import.meta.url));
export const PAGES = fileURLToPath(new URL('../../templates/pages/', import.meta.url));

/** A path as globs and the site generator take it: on Windows a backslash would be an escape there. */
export const withSlashes = (path: string, separator: string = sep): string => path.split(separator).join('/');

/** The brewer's files, for a watcher. */
export const contentGlob = (contentDir: string): string => `${withSlashes(contentDir)}/**/*.{md,yaml,yml}`;

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
export const MISSING_PATH = '404.html';
/** The page of a batch and that of its recipe, below the top folder. */
export const batchPath = (slug: string): string => `batches/${safeSlug(slug)}/index.html`;
export const recipePath = (slug: string): string => `recipes/${safeSlug(slug)}/index.html`;
