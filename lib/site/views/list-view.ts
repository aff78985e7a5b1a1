import type { TargetKey } from '../../batch/plan.ts';
import { figureText } from '../../view/figures.ts';
import { dateText } from '../../view/measures.ts';
import { smallSwatch, swatchSvg } from '../charts/swatch.ts';
import { BAND_KINDS, type BandKind, bandsOf, FACET_KINDS, type FacetKind, type Facets } from '../facets.ts';
import type { Published, SiteEntry } from '../site.ts';
import { type HeadView, headView } from './head.ts';
import { STATUS_WORDS, type Status, scoreOf, statusOf } from './status.ts';

export interface ListRow {
  readonly href: string;
  readonly number: string;
  readonly title: string;
  readonly style: string;
  readonly day: { readonly iso: string; readonly text: string } | null;
  readonly gravity: string;
  readonly alcohol: string;
  readonly bitterness: string;
  readonly swatch: string;
  readonly status: Status;
  readonly statusWords: string;
  readonly score: string | null;
  /** What the row is found by, parted by spaces. */
  readonly tokens: string;
}

/** One list of the sieve above the table. */
export interface SieveList {
  readonly name: string;
  readonly label: string;
  readonly any: string;
  readonly options: readonly { readonly value: string; readonly words: string }[];
}

export interface ListView {
  readonly head: HeadView;
  readonly sieve: readonly SieveList[];
  readonly rows: readonly ListRow[];
  readonly many: boolean;
  readonly recipes: readonly {
    readonly href: string;
    readonly title: string;
    readonly style: string;
    readonly swatch: string;
  }[];
}

const KIND_LABELS: { readonly [K in FacetKind]: readonly [label: string, any: string] } = {
  style: ['Style', 'any style'],
  tag: ['Tag', 'any tag'],
  yeast: ['Yeast', 'any yeast'],
  hop: ['Hop', 'any hop'],
  setup: ['Kit', 'any kit'],
};
const BAND_LABELS: { readonly [K in BandKind]: readonly [label: string, any: string] } = {
  strength: ['Strength', 'any strength'],
  bitterness: ['Bitterness', 'any bitterness'],
  colour: ['Colour', 'any colour'],
  score: ['Score', 'any score'],
};

/** Lists with something to choose between; what all batches share parts nothing from anything. */
function sieveOf(facets: Facets, site: Published): SieveList[] {
  const list = (
    name: string,
    [label, any]: readonly [string, string],
    options: SieveList['options'],
  ): SieveList => ({ name, label, any, options });
  const used = new Set([...facets.tokens.values()].flat());
  return [
    ...FACET_KINDS.map((kind) =>
      list(
        kind,
        KIND_LABELS[kind],
        facets.byKind[kind].map(({ slug, name, entries }) => ({
          value: slug,
          words: `${name} (${entries.length})`,
        })),
      ),
    ),
    list(
      'year',
      ['Year', 'any year'],
      facets.years.map((year) => ({ value: year, words: year })),
    ),
    ...BAND_KINDS.map((kind) =>
      list(
        kind,
        BAND_LABELS[kind],
        bandsOf(kind, site.brewery.units)
          .filter(({ slug }) => used.has(`${kind}-${slug}`))
          .map(({ slug, name }) => ({ value: slug, words: name })),
      ),
    ),
  ].filter(({ options }) => options.length > 1);
}

/** More rows than a table lays out at once: those out of view are then left until they come into it. */
const MANY = 200;
export const isMany = (rows: readonly unknown[]): boolean => rows.length > MANY;

/** A batch as a row of a table; `root` leads from the page to the top folder. */
export function listRow(
  { batch, plan }: SiteEntry,
  units: 'metric' | 'us',
  root: string,
  tokens: readonly string[],
): ListRow {
  const number = (key: TargetKey): string => {
    const figure = plan.as_brewed?.[key] ?? plan.targets[key];
    return figure === null ? '–' : figureText(key, figure, units).number;
  };
  const status = statusOf(batch);
  return {
    href: `${root}batches/${batch.slug}/index.html`,
    number: batch.number === null ? '' : String(batch.number),
    title: batch.title,
    style: batch.style ?? '',
    day: batch.brewed === null ? null : { iso: batch.brewed, text: dateText(batch.brewed) },
    gravity: number('original_gravity'),
    alcohol: number('alcohol_volume_percent'),
    bitterness: number('bitterness_ibu'),
    swatch: smallSwatch(plan.swatch?.srgb ?? null),
    status,
    statusWords: STATUS_WORDS[status],
    score: scoreOf(batch),
    tokens: tokens.join(' '),
  };
}

/** The archive: every published batch in one table, and the recipes that are published alone. */
export function listView(site: Published, facets: Facets): ListView {
  const { brewery } = site;
  return {
    head: headView(
      brewery,
      'index.html',
      brewery.name,
      `${brewery.name}: beer brewed at home, each batch planned against brewed.`,
    ),
    sieve: sieveOf(facets, site),
    rows: site.batches.map((entry) =>
      listRow(entry, brewery.units, '', facets.tokens.get(entry.batch.slug) ?? []),
    ),
    many: isMany(site.batches),
    recipes: site.recipesAlone.map(({ batch, plan }) => ({
      href: `recipes/${batch.slug}/index.html`,
      title: batch.title,
      style: batch.style ?? '',
      swatch: swatchSvg(plan.swatch?.srgb ?? null),
    })),
  };
}
