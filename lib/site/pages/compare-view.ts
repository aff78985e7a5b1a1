import { comparedWith } from '../ancestry.ts';
import type { Published } from '../site.ts';
import { headView } from './head.ts';

export const COMPARE_PATH = 'compare/index.html';

/** The page with two batches chosen, or one and the other still to choose. */
export const comparedPath = (a: string, b?: string): string =>
  `${COMPARE_PATH}#a=${encodeURIComponent(a)}${b === undefined ? '' : `&b=${encodeURIComponent(b)}`}`;

/** More would make the page heavy; each is on its batch's page too. */
const MOST_STEPS = 200;

/** The page on which any two batches are compared. */
export function compareView(site: Published) {
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
    /** There are two batches at least. */
    able: site.batches.length > 1,
    steps: steps.slice(0, MOST_STEPS),
    more: Math.max(0, steps.length - MOST_STEPS),
  };
}
