import type { Batch } from '../batch/types/batch.ts';
import type { Brewery } from '../batch/types/brewery.ts';
import type { Plan } from '../batch/types/plan.ts';
import { usedOnPaper } from '../words/learning-view.ts';
import { type RecipeCard, recipeCard } from './card.ts';
import { type CellarSheet, cellarSheet } from './cellar.ts';
import { type KettleSheet, kettleSheet } from './kettle.ts';

export const SHEET_KINDS = ['kettle', 'cellar', 'card'] as const;
export type SheetKind = (typeof SHEET_KINDS)[number];

/** The template of each sheet, below `templates/`. */
export const SHEET_TEMPLATES: { readonly [K in SheetKind]: string } = {
  kettle: 'sheets/kettle.njk',
  cellar: 'sheets/cellar.njk',
  card: 'sheets/card.njk',
};

/** A square code as an SVG path on a grid of `size` modules, quiet zone included. */
export interface CodePath {
  readonly size: number;
  readonly path: string;
}

export interface SheetOptions {
  /** From the sheet's page to the assets, with no slash at the end: `../../assets`. */
  readonly assets: string;
  /** Addresses of the font's two weights; data URIs work everywhere. */
  readonly fonts: { readonly regular: string; readonly bold: string };
  /** Address of the recipe's page on the published site, or null where `url` is not set. */
  readonly address: string | null;
  /** Draws the code on the recipe card; not called without an address. */
  readonly code: (address: string) => CodePath;
  /** `a4` or `letter` in place of the brewery's own. */
  readonly paper?: Brewery['paper'];
}

/** Everything a sheet's template places; it computes nothing. */
export interface SheetContext {
  readonly kind: SheetKind;
  readonly language: string;
  readonly paper: Brewery['paper'];
  readonly title: string;
  readonly assets: string;
  readonly fonts: SheetOptions['fonts'];
  readonly code: CodePath | null;
  readonly sheet: KettleSheet | CellarSheet | RecipeCard;
  /** Figures of the setup that earlier batches gave, and that this plan was made with. */
  readonly learned: readonly string[];
}

const NAMES: { readonly [K in SheetKind]: string } = {
  kettle: 'kettle sheet',
  cellar: 'cellar sheet',
  card: 'recipe card',
};

/** Gathers what one sheet's template needs, in the brewer's units and paper. */
export function sheetContext(
  kind: SheetKind,
  batch: Batch,
  plan: Plan,
  brewery: Brewery,
  options: SheetOptions,
): SheetContext {
  const { units } = brewery;
  const build = {
    kettle: () => kettleSheet(batch, plan, brewery),
    cellar: () => cellarSheet(batch, plan, brewery),
    card: () => recipeCard(batch, plan, brewery, brewery.author, options.address),
  };
  return {
    kind,
    language: brewery.language,
    paper: options.paper ?? brewery.paper,
    title: `${batch.title}, ${NAMES[kind]}`,
    assets: options.assets,
    fonts: options.fonts,
    code: kind === 'card' && options.address !== null ? options.code(options.address) : null,
    sheet: build[kind](),
    learned: usedOnPaper(plan.learned ?? [], units),
  };
}
