import { lastScore } from './pages/status.ts';
import { ofEntry, type Published, type SiteEntry, shownFigure } from './site.ts';

/** What batches are gathered by on pages of their own: the heading over its list, one of it, and the choice of all. */
export const FACETS = {
  style: {
    title: 'Styles',
    one: 'Style',
    any: 'any style',
    of: ({ batch }) => (batch.style === null ? [] : [batch.style]),
  },
  tag: { title: 'Tags', one: 'Tag', any: 'any tag', of: ({ batch }) => batch.tags },
  malt: {
    title: 'Malt and extract',
    one: 'Malt or extract',
    any: 'any malt',
    of: ({ batch: { recipe } }) => [...recipe.grain, ...recipe.extract].map(({ name }) => name),
  },
  sugar: {
    title: 'Sugars',
    one: 'Sugar',
    any: 'any sugar',
    of: ({ batch }) => batch.recipe.sugar.map(({ name }) => name),
  },
  hop: {
    title: 'Hops',
    one: 'Hop',
    any: 'any hop',
    of: ({ batch }) => batch.recipe.hops.map(({ name }) => name),
  },
  yeast: {
    title: 'Yeasts',
    one: 'Yeast',
    any: 'any yeast',
    of: ({ batch }) => batch.recipe.yeast.map(({ name }) => name),
  },
  setup: { title: 'Pots', one: 'Pot', any: 'any pot', of: ({ batch }) => [batch.setup.title] },
} as const satisfies Readonly<
  Record<
    string,
    {
      readonly title: string;
      readonly one: string;
      readonly any: string;
      readonly of: (entry: SiteEntry) => readonly string[];
    }
  >
>;
export type FacetKind = keyof typeof FACETS;
export const FACET_KINDS = Object.keys(FACETS) as readonly FacetKind[];

export interface Facet {
  readonly kind: FacetKind;
  readonly name: string;
  readonly slug: string;
  /** Newest first. */
  readonly entries: readonly SiteEntry[];
}

/** A band of a figure, for filtering. */
export interface Band {
  readonly slug: string;
  readonly name: string;
}

export interface Facets {
  readonly byKind: { readonly [K in FacetKind]: readonly Facet[] };
  /** What a batch is found by: `hop-fuggle`, `year-2026`, `strength-2`. */
  readonly tokens: ReadonlyMap<string, readonly string[]>;
  readonly years: readonly string[];
}

const plain = (name: string): string =>
  name
    .normalize('NFKD')
    .replaceAll(/[\p{M}\s\p{Pd}_]/gu, '')
    .toLowerCase();

/** A name as a folder: letters and figures, the rest as hyphens. */
const folderName = (name: string): string =>
  name
    .normalize('NFKD')
    .replaceAll(/\p{M}/gu, '')
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replaceAll(/^-|-$/g, '')
    .slice(0, 60)
    .replace(/-$/, '') || 'other';

/** Edges of the bands, lower edge included, and the target that they part; the score is no target. Round figures, common practice. */
const BANDS = {
  strength: { edges: [3.5, 4.5, 5.5, 7], unit: ' %', of: 'alcohol_volume_percent' },
  bitterness: { edges: [15, 25, 35, 50], unit: ' IBU', of: 'bitterness_ibu' },
  colour: { edges: [10, 20, 35, 60], unit: ' EBC', of: 'colour_ebc' },
  score: { edges: [2, 3, 4], unit: '', of: null },
} as const;
type BandKind = keyof typeof BANDS;
export const BAND_KINDS = Object.keys(BANDS) as BandKind[];

/** EBC of one SRM: colour is banded in the brewer's unit. */
const SRM_PER_EBC = 12.7 / 25;

export function bandsOf(kind: BandKind, units: Published['brewery']['units']): readonly Band[] {
  const { edges, unit } = BANDS[kind];
  const srm = kind === 'colour' && units === 'us';
  const words = edges.map((edge) => String(srm ? Math.round(edge * SRM_PER_EBC) : edge));
  const last = srm ? ' SRM' : unit;
  return [
    { slug: '0', name: `below ${words[0]}${last}` },
    ...words
      .slice(0, -1)
      .map((low, i) => ({ slug: String(i + 1), name: `${low} to ${words[i + 1]}${last}` })),
    { slug: String(edges.length), name: `${words.at(-1)}${last} and more` },
  ];
}

const bandAt = (kind: BandKind, value: number): number =>
  BANDS[kind].edges.filter((edge) => value >= edge).length;

function bandTokens(entry: SiteEntry): string[] {
  return BAND_KINDS.flatMap((kind) => {
    const { of } = BANDS[kind];
    const value = of === null ? lastScore(entry.batch) : (shownFigure(entry, of)?.value ?? null);
    return value === null ? [] : [`${kind}-${bandAt(kind, value)}`];
  });
}

/** Gathers what is published by style, tag, yeast, hop and setup; names that differ in case or hyphens alone are one. */
export function facetsOf(site: Published): Facets {
  const found = new Map<string, { kind: FacetKind; name: string; slug: string; entries: SiteEntry[] }>();
  const slugs = new Set<string>();
  const tokens = new Map<string, string[]>();
  const years = new Set<string>();
  for (const entry of site.batches) {
    const own = new Set(ofEntry(entry, 'bands', bandTokens));
    const year = entry.batch.brewed?.slice(0, 4);
    if (year !== undefined) {
      years.add(year);
      own.add(`year-${year}`);
    }
    for (const kind of FACET_KINDS)
      for (const name of FACETS[kind].of(entry)) {
        const key = `${kind} ${plain(name)}`;
        let facet = found.get(key);
        if (facet === undefined) {
          let slug = folderName(name);
          for (let n = 2; slugs.has(`${kind} ${slug}`); n++) slug = `${folderName(name)}-${n}`;
          slugs.add(`${kind} ${slug}`);
          facet = { kind, name, slug, entries: [] };
          found.set(key, facet);
        }
        if (facet.entries.at(-1) !== entry) facet.entries.push(entry);
        own.add(`${kind}-${facet.slug}`);
      }
    tokens.set(entry.batch.slug, [...own]);
  }
  const all = [...found.values()].sort((a, b) => a.name.localeCompare(b.name, site.brewery.language));
  const byKind = Object.fromEntries(
    FACET_KINDS.map((kind) => [kind, all.filter((facet) => facet.kind === kind)]),
  ) as unknown as Facets['byKind'];
  return { byKind, tokens, years: [...years].sort().reverse() };
}

/** The pages that a batch is gathered on, in the order of the kinds. */
export const facetsOfBatch = (facets: Facets, slug: string): readonly Facet[] => {
  const tokens = new Set(facets.tokens.get(slug));
  return FACET_KINDS.flatMap((kind) =>
    facets.byKind[kind].filter((facet) => tokens.has(`${kind}-${facet.slug}`)),
  );
};
