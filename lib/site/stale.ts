import { SHEET_FILES } from './paths.ts';

const CARD = /\/recipe-card\.(?:html|pdf)$/;

/** In the folder of what is not published, the sheets and the plan of a batch. */
const OF_BATCH = new RegExp(`^[^/]+/(?:(?:${SHEET_FILES.join('|')})\\.(?:html|pdf)|(?:plan|fields)\\.json)$`);
export const isOfBatch = (path: string): boolean => OF_BATCH.test(path);

/**
 * Tells files of the site that may stay while only sheets are printed: no page of a batch that is no longer shown, no form,
 * which is written again, and no booklet, which may tell of a batch that has been withdrawn since.
 */
export function mayStay(batchSlugs: readonly string[], recipeSlugs: readonly string[]) {
  const [batches, recipes] = [new Set(batchSlugs), new Set(recipeSlugs)];
  return (path: string): boolean => {
    const [kind = '', slug = '', ...more] = path.split('/');
    if (more.length === 0) return !path.startsWith('booklet.');
    if (kind === 'recipes') return recipes.has(slug);
    if (kind !== 'batches') return true;
    return (batches.has(slug) && more[0] !== 'key-in') || (recipes.has(slug) && CARD.test(path));
  };
}
