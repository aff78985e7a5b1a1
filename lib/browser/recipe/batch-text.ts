import { FIGURE_OF, type FigureKey } from '../../batch/model/assumed.ts';
import { SETUP_DEFAULTS, type SetupDefaultKey } from '../../batch/model/defaults.ts';
import type {
  ExtractItem,
  FermentableItem,
  HopItem,
  Recipe,
  RecipeMoment,
  YeastItem,
} from '../../batch/types/recipe.ts';
import type { SetupFigure } from '../../batch/types/setup.ts';
import { formatMinutes } from '../../units/format/format.ts';
import type { GivenAmount } from '../../units/parse/given.ts';
import { yamlQuoted, yamlText } from '../../units/yaml-text.ts';
import { allergens } from '../../words/cautions.ts';
import type { Travelled } from './fit-to-kitchen.ts';

/** A key and its value as it is written; null where the file does not need it. */
type Pair = readonly [key: string, value: string | null];

/** YAML is typed by hand: plain spaces, and US measures named as such, since a friend's file may be metric. */
const plain = (written: string): string =>
  written
    .replaceAll(/[\u00a0\u202f]/g, ' ')
    .replaceAll('\u2212', '-')
    .replaceAll(/(?<!us |imp )\b(gal|qt|pt|fl oz|cups?)\b/g, 'us $1');

const value = (written: string): string => yamlText(plain(written));
const optional = (written: string | null | undefined): string | null =>
  written === null || written === undefined ? null : value(written);

const braces = (...pairs: readonly Pair[]): string =>
  `{ ${pairs.flatMap(([key, text]) => (text === null ? [] : [`${key}: ${text}`])).join(', ')} }`;

/** Six digits are more than any packet prints. */
const digits = (n: number): string => String(Number(n.toPrecision(6)));
const percent = (share: number, u: number | null = null): string =>
  u === null
    ? `${digits(share * 100)} %`
    : `${digits(share * 100)} ± ${digits(Number((u * 100).toPrecision(3)))} %`;

function moment(add: RecipeMoment): readonly Pair[] {
  switch (add.at) {
    case 'boil':
      return [['add', value(add.written)]];
    case 'dry':
      return [
        ['add', 'dry'],
        ['day', String(add.day)],
        ['for', optional(add.forWritten ?? (add.for_min === null ? null : formatMinutes(add.for_min)))],
      ];
    case 'fermenter':
      return [
        ['add', 'fermenter'],
        ['day', String(add.day)],
      ];
    default:
      return [['add', add.at]];
  }
}

/** Its own figures go with every item, whatever tables the friend has. */
const figures = (item: FermentableItem): readonly Pair[] => [
  ['yield', percent(item.yield.value, item.yield.u)],
  ['colour', `${digits(item.colour_EBC.value)} EBC`],
  ['fermentability', percent(item.fermentability.value, item.fermentability.u)],
];

function grain({ grain: items }: Recipe): string[] {
  return items.map((item) =>
    braces(
      ['name', yamlText(item.name)],
      ['weight', value(item.weight_g.written)],
      ['in', item.in],
      ...figures(item),
      ['note', optional(item.note)],
    ),
  );
}

/** The label's bitterness is for the weight that it was written for: another weight gives it in another volume. */
function label(item: ExtractItem): string | null {
  if (item.bitterness === null) return null;
  const { ibu, in_L, labelWeight_g } = item.bitterness;
  const share = labelWeight_g === null ? 1 : item.weight_g.value / labelWeight_g;
  return `${digits(ibu)} IBU in ${digits(in_L * share)} L`;
}

const extract = (items: readonly ExtractItem[]): string[] =>
  items.map((item) =>
    braces(
      ['name', yamlText(item.name)],
      ['weight', value(item.weight_g.written)],
      ...moment(item.add),
      ...figures(item),
      ['form', item.form],
      ['bitterness', label(item)],
      ['note', optional(item.note)],
    ),
  );

const hop = (item: HopItem): string =>
  braces(
    ['name', yamlText(item.name)],
    ['weight', value(item.weight_g.written)],
    ['alpha', percent(item.alpha.value, item.alpha.u)],
    ...moment(item.add),
    ['form', item.form],
    ['note', optional(item.note)],
  );

const amount = (given: GivenAmount): string => value(given.written);

function yeast(item: YeastItem): string {
  const { cells } = item;
  return braces(
    ['name', yamlText(item.name)],
    ['form', item.form],
    ['kind', item.kind],
    ['amount', amount(item.amount)],
    ['attenuation', percent(item.attenuation.value, item.attenuation.u)],
    ['temperature', optional(item.temperature_C?.written)],
    ['pack', item.pack === null ? null : amount(item.pack)],
    ['cells', cells === null ? null : `${digits(cells.billion)} billion/${cells.per}`],
    ['note', optional(item.note)],
  );
}

/** One line of a comment, whatever was written in it. */
const comment = (text: string): string => `# ${text.replaceAll(/\s+/g, ' ').trim()}`;

/** Sugars to prime with that every copy of the project knows; a file cannot bring the gas of another. */
export const KNOWN_PRIMERS: readonly string[] = [
  'table sugar',
  'glucose',
  'glucose monohydrate',
  'fructose',
  'light brown sugar',
  'dark brown sugar',
  'demerara sugar',
  'honey',
  'heather honey',
  'invert sugar syrup',
  'golden syrup',
  'maple syrup',
  'light dry extract',
  'extra light dry extract',
  'wheat dry extract',
];
const primer = (name: string): string => (KNOWN_PRIMERS.includes(name.toLowerCase()) ? name : 'table sugar');

/** Says where the file differs from the recipe: in a sugar that only its author's tables know. */
const primersLeftOut = (recipe: Recipe): string[] =>
  recipe.packaging.flatMap(({ sugar }) =>
    sugar === null || primer(sugar.name) === sugar.name
      ? []
      : [
          `  ${comment(`Its author primes with ${sugar.name}; to do so, add it to content/ingredients.yaml.`)}`,
        ],
  );

const packaging = (recipe: Recipe): string[] =>
  recipe.packaging.map((step) =>
    braces(
      ['into', step.into],
      ['carbonation', value(step.carbonation_vol.written)],
      ['sugar', step.sugar === null ? null : yamlText(primer(step.sugar.name))],
      ['bottle', optional(step.bottle_L?.written)],
      ['limit', step.limit.assumed ? null : value(step.limit.written)],
      ['temperature', optional(step.temperature_C?.written)],
      ['volume', optional(step.volume_L?.written)],
    ),
  );

const list = (key: string, items: readonly string[]): string[] =>
  items.length === 0 ? [] : [`  ${key}:`, ...items.map((item) => `    - ${item}`)];

const one = (key: string, text: string | null): string[] => (text === null ? [] : [`  ${key}: ${text}`]);

const kitLabel = ({ label }: Recipe): string | null =>
  label &&
  braces(
    ['original_gravity', optional(label.originalGravity?.written)],
    ['final_gravity', optional(label.finalGravity?.written)],
    ['volume', optional(label.volume_L?.written)],
  );

function recipeLines(recipe: Recipe): string[] {
  const { steep, mash, stand, boilVolume_L, rinse_L } = recipe;
  const packed = packaging(recipe);
  const timed = (what: NonNullable<Recipe['stand']>, ...more: readonly Pair[]): string =>
    braces(
      ['temperature', value(what.temperature_C.written)],
      ['time', value(what.time_min.written)],
      ...more,
    );
  return [
    'recipe:',
    ...one('label', kitLabel(recipe)),
    ...one('into_fermenter', value(recipe.intoFermenter_L.written)),
    ...one('boil', value(recipe.boil_min.written)),
    ...one('boil_volume', optional(boilVolume_L?.written)),
    ...one('steep', steep && timed(steep, ['water', optional(steep.water_L?.written)])),
    ...one('mash', mash && timed(mash, ['ratio', value(mash.ratio_L_per_kg.written)])),
    ...one('rinse', optional(rinse_L?.written)),
    ...list('grain', grain(recipe)),
    ...list('extract', extract(recipe.extract)),
    ...list('sugar', extract(recipe.sugar)),
    ...list('hops', recipe.hops.map(hop)),
    ...one('stand', stand && timed(stand)),
    ...list(
      'other',
      recipe.other.map((item) =>
        braces(['name', yamlText(item.name)], ['amount', amount(item.amount)], ...moment(item.add), [
          'note',
          optional(item.note),
        ]),
      ),
    ),
    ...list('yeast', recipe.yeast.map(yeast)),
    ...list(
      'ferment',
      recipe.ferment.map((step) =>
        braces(['temperature', value(step.temperature_C.written)], ['time', value(step.time_min.written)]),
      ),
    ),
    ...primersLeftOut(recipe),
    ...(packed.length === 1 ? one('package', packed[0]!) : list('package', packed)),
  ];
}

/** The unit of a figure of a kit in a file, and how many of the internal one it is. */
function unitOf(key: SetupDefaultKey): readonly [unit: string, size: number] {
  const { unit } = SETUP_DEFAULTS[key];
  if (unit === '1') return ['%', 0.01];
  return [unit === 'K' ? '°C' : unit, 1];
}

const LITRES: readonly [unit: string, size: number] = ['L', 1];

const OWN_STEP = 0.002;
const OWN_AT_C = 20;

/** The kitchen that the amounts are for: all that would not be assumed. */
function kitchen({ batch: { setup } }: Travelled): string[] {
  const learned = setup.learned === 'use';
  const { chill, hydrometer, instruments } = setup;
  /** What was learned, or written in another way, by its value. */
  const stated = ({ assumed, written, value: amount, u }: SetupFigure, [unit, size] = LITRES) => {
    if (assumed) return null;
    const asWritten = written !== null && /^[-\u2212]?[\d.,]+(?: ?± ?[\d.,]+)? ?\D*$/.test(plain(written));
    return asWritten && !learned
      ? value(written)
      : value(`${digits(amount / size)} ± ${digits(u / size)} ${unit}`);
  };
  const own = (...keys: readonly FigureKey[]): readonly Pair[] =>
    keys.map((key) => [key, stated(FIGURE_OF[key](setup), unitOf(key))]);
  const group = (key: string, pairs: readonly Pair[]): Pair => [
    key,
    pairs.every(([, text]) => text === null) ? null : braces(...pairs),
  ];
  const doubt = (key: string, { assumed, u }: SetupFigure): Pair => {
    const [unit, size] = unitOf(`uncertainty.${key}` as SetupDefaultKey);
    return [key, assumed ? null : `${digits(u / size)} ${unit}`];
  };
  const isUsual = hydrometer.at_C.value === OWN_AT_C && hydrometer.step === OWN_STEP;
  const figures: readonly Pair[] = [
    ['kettle', stated(setup.kettle_L)],
    ...own('heat', 'boil_off', 'kettle_loss', 'hop_absorption', 'grain_absorption'),
    ['fermenter', setup.fermenter_L && stated(setup.fermenter_L)],
    ...own('fermenter_loss', 'steep_efficiency', 'mash_efficiency'),
    group('chill', [
      ['to', stated(chill.to_C, unitOf('chill.to'))],
      ['in', stated(chill.in_min, unitOf('chill.in'))],
      ['with', chill.assumed ? null : chill.with],
    ]),
    ...own('water_temperature', 'top_up_temperature', 'room_temperature', 'altitude'),
    group(
      'hydrometer',
      isUsual
        ? []
        : [
            ['at', `${digits(hydrometer.at_C.value)} °C`],
            ['step', digits(hydrometer.step)],
          ],
    ),
    group('uncertainty', [
      doubt('kettle_mark', instruments.kettleMark_L),
      doubt('fermenter_mark', instruments.fermenterMark_L),
      doubt('scale', instruments.scale),
      doubt('thermometer', instruments.thermometer_C),
    ]),
  ];
  return figures.flatMap(([key, text]) => (text === null ? [] : [`  ${key}: ${text}`]));
}

/**
 * A batch file of a recipe that was fitted to a friend's kitchen: what it builds in the friend's archive is what the page
 * showed, given the same kit. Every ingredient brings its own figures; nothing of the author's batch goes with it.
 *
 * @param address where the recipe came from; null where that is nowhere
 */
export function batchText(travelled: Travelled, address: string | null): string {
  const { batch, brewery } = travelled;
  const by = brewery.author ?? brewery.name;
  const named = allergens(batch);
  const lines = [
    '---',
    comment(`A recipe by ${by}${address === null ? '' : `, from ${address}`}`),
    ...(named.length === 0
      ? []
      : [comment(`Allergens: ${named.join(', ')}. Read the labels of what you buy as well.`)]),
    `title: ${yamlQuoted(batch.title)}`,
    ...(batch.style === null ? [] : [`style: ${yamlText(batch.style)}`]),
    '# Its amounts are for this kitchen; with setup: and a name of your setups.yaml they are planned for yours.',
    'kitchen:',
    ...kitchen(travelled),
    ...recipeLines(batch.recipe),
    '---',
    '',
  ];
  return lines.join('\n');
}
