import { fileURLToPath } from 'node:url';

/** The project's own folder, wherever it was put. */
export const ROOT = fileURLToPath(new URL('../../', import.meta.url));
export const TEMPLATES = fileURLToPath(new URL('../../templates/', import.meta.url));
export const PAGES = fileURLToPath(new URL('../../templates/pages/', import.meta.url));

export const SHEET_KINDS = ['kettle-sheet', 'cellar-sheet', 'recipe-card'] as const;
export type SheetKind = (typeof SHEET_KINDS)[number];

const SAFE_SLUG = /^[\p{L}\p{N}][\p{L}\p{N}._-]*$/u;

/** True where a slug is one plain folder name: no separator, no dot in front, nothing that climbs out. */
export const isSafeSlug = (slug: string): boolean => SAFE_SLUG.test(slug) && !slug.includes('..');

/** Guards every path that is made from a slug; a slug that reaches this unchecked is a bug, not a mistake. */
export function safeSlug(slug: string): string {
  if (!isSafeSlug(slug))
    throw new Error(`A slug that is no plain folder name reached the site: ${JSON.stringify(slug)}`);
  return slug;
}
