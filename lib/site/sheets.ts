import type { Environment } from 'nunjucks';
import type { Brewery } from '../batch/brewery.ts';
import type { SheetKind } from './paths.ts';
import type { SiteEntry } from './site.ts';

export interface SheetOptions {
  readonly paper?: Brewery['paper'];
}

export function renderSheetHtml(
  _environment: Environment,
  kind: SheetKind,
  entry: SiteEntry,
  brewery: Brewery,
  options: SheetOptions = {},
): string {
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>${kind}</title></head><body><p>${entry.batch.slug} ${options.paper ?? brewery.paper}</p></body></html>`;
}
