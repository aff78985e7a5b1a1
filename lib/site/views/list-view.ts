import type { TargetKey } from '../../batch/plan.ts';
import { figureText } from '../../view/figures.ts';
import { dateText } from '../../view/measures.ts';
import { swatchSvg } from '../charts/swatch.ts';
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
}

export interface ListView {
  readonly head: HeadView;
  readonly rows: readonly ListRow[];
  readonly recipes: readonly {
    readonly href: string;
    readonly title: string;
    readonly style: string;
    readonly swatch: string;
  }[];
}

function listRow({ batch, plan }: SiteEntry, units: 'metric' | 'us'): ListRow {
  const number = (key: TargetKey): string => {
    const figure = plan.as_brewed?.[key] ?? plan.targets[key];
    return figure === null ? '–' : figureText(key, figure, units).number;
  };
  const status = statusOf(batch);
  return {
    href: `batches/${batch.slug}/index.html`,
    number: batch.number === null ? '' : String(batch.number),
    title: batch.title,
    style: batch.style ?? '',
    day: batch.brewed === null ? null : { iso: batch.brewed, text: dateText(batch.brewed) },
    gravity: number('original_gravity'),
    alcohol: number('alcohol_volume_percent'),
    bitterness: number('bitterness_ibu'),
    swatch: swatchSvg(plan.swatch?.srgb ?? null),
    status,
    statusWords: STATUS_WORDS[status],
    score: scoreOf(batch),
  };
}

/** The archive: every published batch in one table, and the recipes that are published alone. */
export function listView(site: Published): ListView {
  const { brewery } = site;
  return {
    head: headView(
      brewery,
      'index.html',
      brewery.name,
      `${brewery.name}: beer brewed at home, each batch planned against brewed.`,
    ),
    rows: site.batches.map((entry) => listRow(entry, brewery.units)),
    recipes: site.recipesAlone.map(({ batch, plan }) => ({
      href: `recipes/${batch.slug}/index.html`,
      title: batch.title,
      style: batch.style ?? '',
      swatch: swatchSvg(plan.swatch?.srgb ?? null),
    })),
  };
}
