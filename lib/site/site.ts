import type { Batch } from '../batch/types/batch.ts';
import type { Brewery } from '../batch/types/brewery.ts';
import type { Ingredient } from '../batch/types/ingredient.ts';
import type { Figure, Plan } from '../batch/types/plan.ts';
import type { TargetKey } from '../batch/types/targets.ts';
import type { Raw } from '../key-in/key-in.ts';
import { isSafeSlug } from './paths.ts';
import type { Photographs } from './pictures.ts';
import { farKitchen } from './round-altitude.ts';

/** A batch and the plan that was made for it, once. */
export interface SiteEntry {
  readonly batch: Batch;
  readonly plan: Plan;
}

const workedOut = [false, true].map(() => new WeakMap<SiteEntry, Map<string, unknown>>());

/** All that was worked out of an entry, by name; what is late is much, and needed for few pages. */
export function workedOutOf(entry: SiteEntry, late = false): Map<string, unknown> {
  const all = workedOut[Number(late)]!;
  const known = all.get(entry) ?? new Map(late ? keptLate.get(entry)?.() : []);
  all.set(entry, known);
  return known;
}

/** What an earlier run has worked out late, unpacked when it is asked for; undefined where it cannot be. */
export const keptLate = new WeakMap<SiteEntry, () => ReadonlyMap<string, unknown> | undefined>();

/**
 * Works something out of an entry, once: what pages of many batches show of each. It is kept from one build to the
 * next, so that plans need not be unpacked or made again for it: nothing but the entry and the brewery may go into it, and it is
 * plain data.
 */
export function ofEntry<T>(entry: SiteEntry, name: string, work: (entry: SiteEntry) => T, late = false): T {
  const known = workedOutOf(entry, late);
  if (!known.has(name)) known.set(name, work(entry));
  return known.get(name) as T;
}

/** The colour of a beer as it is drawn. */
export const colourOf = (entry: SiteEntry): string | null =>
  ofEntry(entry, 'colour', ({ plan }) => plan.swatch?.srgb ?? null);

/** A figure of a beer as every page shows it: as brewed once it was read, else as planned; of a recipe alone, always as planned. */
export const shownFigure = ({ batch, plan }: SiteEntry, key: TargetKey): Figure | null =>
  (batch.publish === 'all' ? plan.as_brewed?.[key] : null) ?? plan.targets[key];

/** What a site is made from. */
export interface SiteContent {
  readonly brewery: Brewery;
  readonly entries: readonly SiteEntry[];
  /** Rows of the tables that a friend's extract may come from. */
  readonly extracts?: readonly Ingredient[];
  /** Batches with the setup as its file describes it, before anything learned was put in. */
  readonly asRead?: readonly Batch[];
  /** The brewer's photographs, by batch. */
  readonly photographs?: Photographs;
  /** The day that plans are looked at on. */
  readonly today?: string | null;
  /** The readings of a batch as its file has them, under `readings`, every value as text. */
  readonly rawOf?: (slug: string) => Raw;
}

/** What may be seen: everything else stays in its file, name and all. */
export interface Published {
  readonly brewery: Brewery;
  readonly extracts: readonly Ingredient[];
  /** Newest first. */
  readonly batches: readonly SiteEntry[];
  /** Recipes of these batches, and those that are published as a recipe only. */
  readonly recipes: readonly SiteEntry[];
  /** Recipes whose batch is not shown. */
  readonly recipesAlone: readonly SiteEntry[];
  readonly bySlug: ReadonlyMap<string, SiteEntry>;
  /** Of batches that are published whole. */
  readonly photographs: Photographs;
  readonly today: string | null;
  /** The readings of a batch whose readings are published, as its file has them; none of any other. */
  readonly rawOf: (slug: string) => Raw;
}

function newestFirst(a: SiteEntry, b: SiteEntry): number {
  const day = (b.batch.brewed ?? '').localeCompare(a.batch.brewed ?? '', 'en');
  const number = (b.batch.number ?? 0) - (a.batch.number ?? 0);
  return day || number || a.batch.slug.localeCompare(b.batch.slug, 'en');
}

const byTitle = (a: SiteEntry, b: SiteEntry): number =>
  a.batch.title.localeCompare(b.batch.title, 'en') || a.batch.slug.localeCompare(b.batch.slug, 'en');

/** Keeps what the brewer publishes; batches that are not are dropped here, before any page is thought of. */
export function publish(content: SiteContent): Published {
  const seen = content.entries.filter((e) => e.batch.publish !== 'nothing' && isSafeSlug(e.batch.slug));
  const batches = seen.filter((e) => e.batch.publish === 'all').sort(newestFirst);
  const recipesAlone = seen
    .filter((e) => e.batch.publish === 'recipe')
    .map((e) => farKitchen(e, content.brewery))
    .sort(byTitle);
  const shown = new Set(batches.map(({ batch }) => batch.slug));
  return {
    brewery: content.brewery,
    extracts: content.extracts ?? [],
    batches,
    recipes: [...batches, ...recipesAlone],
    recipesAlone,
    bySlug: new Map([...batches, ...recipesAlone].map((e) => [e.batch.slug, e])),
    photographs: new Map([...(content.photographs ?? [])].filter(([slug]) => shown.has(slug))),
    today: content.today ?? null,
    rawOf: (slug) => (shown.has(slug) ? (content.rawOf?.(slug) ?? {}) : {}),
  };
}
