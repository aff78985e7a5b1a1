import { comparedWith } from '../ancestry.ts';
import type { Published } from '../site.ts';
import { type HeadView, headView } from './head.ts';

export const COMPARE_PATH = 'compare/index.html';

/** The page with two batches chosen, or one and the other still to choose. */
export const comparedPath = (a: string, b?: string): string =>
  `${COMPARE_PATH}#a=${encodeURIComponent(a)}${b === undefined ? '' : `&b=${encodeURIComponent(b)}`}`;

export interface CompareView {
  readonly head: HeadView;
  /** True where there are two batches at least. */
  readonly able: boolean;
  /** Batches that were changed from another, newest first, with the comparison on their own pages. */
  readonly steps: readonly { readonly href: string; readonly before: string; readonly title: string }[];
  /** How many more there are. */
  readonly more: number;
}

/** More would make the page heavy; each stands on its batch's page too. */
const MOST_STEPS = 200;

/** The page on which any two batches are held against each other. */
export function compareView(site: Published): CompareView {
  const head = headView(
    site.brewery,
    COMPARE_PATH,
    'Compare two batches',
    `Any two batches of ${site.brewery.name} side by side: recipe, method, figures and notes.`,
  );
  const steps = site.batches.flatMap((entry) => {
    const before = comparedWith(entry, site);
    if (before === null) return [];
    const { slug, title } = entry.batch;
    return [{ href: `${head.root}batches/${slug}/index.html#line`, before: before.batch.title, title }];
  });
  return {
    head,
    able: site.batches.length > 1,
    steps: steps.slice(0, MOST_STEPS),
    more: Math.max(0, steps.length - MOST_STEPS),
  };
}
