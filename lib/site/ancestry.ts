import type { Published, SiteEntry } from './site.ts';

/** The batch that one changes, where it may be seen; a hidden one leaves no trace. */
export function predecessor(entry: SiteEntry, site: Published): SiteEntry | null {
  const { basedOn } = entry.batch;
  return basedOn === null ? null : (site.bySlug.get(basedOn) ?? null);
}

/** The batch that one was changed from, where both are shown whole; of a recipe published alone nothing else may be shown. */
export function comparedWith(entry: SiteEntry, site: Published): SiteEntry | null {
  const before = predecessor(entry, site);
  return before !== null && before.batch.publish === 'all' && before !== entry ? before : null;
}

/** Successors by slug, in the order in which they were brewed; made once a site. */
const successors = new WeakMap<Published, ReadonlyMap<string, readonly SiteEntry[]>>();

function successorsOf(site: Published): ReadonlyMap<string, readonly SiteEntry[]> {
  const known = successors.get(site);
  if (known !== undefined) return known;
  const found = new Map<string, SiteEntry[]>();
  for (const entry of [...site.batches].reverse()) {
    const { basedOn } = entry.batch;
    if (basedOn === null || basedOn === entry.batch.slug) continue;
    found.set(basedOn, [...(found.get(basedOn) ?? []), entry]);
  }
  successors.set(site, found);
  return found;
}

/**
 * The line of a batch: from the first that nothing came before, through all that were changed from it. Empty
 * where the batch has no relatives. A circle of changes ends where it closes.
 */
export function lineOf(entry: SiteEntry, site: Published): readonly SiteEntry[] {
  let first = entry;
  const seen = new Set([entry.batch.slug]);
  for (;;) {
    const before = predecessor(first, site);
    if (before === null || before.batch.publish !== 'all' || seen.has(before.batch.slug)) break;
    seen.add(before.batch.slug);
    first = before;
  }
  const line: SiteEntry[] = [];
  const placed = new Set<string>();
  const place = (one: SiteEntry): void => {
    if (placed.has(one.batch.slug)) return;
    placed.add(one.batch.slug);
    line.push(one);
    for (const next of successorsOf(site).get(one.batch.slug) ?? []) place(next);
  };
  place(first);
  return line.length > 1 ? line : [];
}

/** Slugs of all that hang together with each batch by being based on one another, itself among them; only what may be seen. */
export function familiesOf(site: Published): ReadonlyMap<string, readonly string[]> {
  const families = new Map<string, string[]>();
  for (const { batch } of site.recipes) {
    const other = batch.basedOn === null ? undefined : site.bySlug.get(batch.basedOn)?.batch.slug;
    const own = families.get(batch.slug) ?? [batch.slug];
    const theirs = other === undefined ? own : (families.get(other) ?? [other]);
    const all = own === theirs ? own : [...own, ...theirs];
    for (const slug of all) families.set(slug, all);
  }
  return families;
}
