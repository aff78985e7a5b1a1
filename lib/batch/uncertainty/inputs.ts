/**
 * The uncertain inputs of a batch. Each gives a case in which its number is nominal + a change, so that inputs which
 * share an instrument, a packet or a tin are one input, and their correlation needs no coefficient.
 */

import type { Fraction } from '../../units/brands.ts';
import { kettleLoss } from '../model/build-model-input.ts';
import { INPUT_DEFAULTS, type InputDefaultKey } from '../model/defaults.ts';
import type { Stage } from '../model/model.ts';
import type { Case, ExtractPart, OwnCase } from '../model/model-input.ts';
import type { Batch } from '../types/batch.ts';
import type { Looked, YeastItem } from '../types/recipe.ts';
import type { Setup, SetupFigure } from '../types/setup.ts';

export interface Input {
  /** The number of the case that it moves. */
  readonly key: keyof Case | 'yield' | 'colour_L' | 'alpha' | 'reading';
  /** Words for the sheet: "mostly the fermenter's volume mark". */
  readonly label: string;
  /** Standard uncertainty of the change. */
  readonly u: number;
  /** What of the model it moves: the boil by the minute, what is poured off it, or only some of what follows. The rest serves again. */
  readonly moves: 'boil' | 'pour' | readonly Stage[];
  /**
   * Runs something on a case with the input at its nominal value plus `change`. The case itself is written to, as some hundred
   * copies cost as much as the runs; afterwards it is what it was.
   */
  readonly moved: <T>(c: OwnCase, change: number, run: (c: Case) => T) => T;
}

function during<K extends keyof Case, T>(c: OwnCase, key: K, value: Case[K], run: (c: Case) => T): T {
  const before = c[key];
  c[key] = value;
  try {
    return run(c);
  } finally {
    c[key] = before;
  }
}

/** What inputs move of the model. One that is not listed moves the pour, and with it all that follows. */
const MOVES: { readonly [K in Input['key']]?: Input['moves'] } = {
  kettleMark_L: 'boil',
  scale: 'boil',
  boilOff_L_per_h: 'boil',
  grainAbsorption_L_per_kg: 'boil',
  steepEfficiency: 'boil',
  mashEfficiency: 'boil',
  yield: 'boil',
  alpha: ['bitterness'],
  tinseth: ['bitterness'],
  chillIn_min: ['bitterness'],
  chillTo_C: ['bitterness'],
  water_C: ['bitterness', 'heat'],
  room_C: ['bitterness', 'heat'],
  colour_L: ['colour'],
  morey: ['colour'],
  attenuation: ['fermentation'],
  fermentability: ['fermentation'],
  pitchingRate: ['yeast'],
  fermenterLoss_L: ['packaging'],
  warmest_C: ['packaging'],
  co2Yield: ['packaging'],
  beerSolubility: ['packaging'],
  kegSolubility: ['packaging'],
  heat_kW: ['heat'],
  thermometer_K: ['heat'],
  topUp_C: ['heat'],
  maltHeat_kJ_per_kgK: ['heat'],
  bathEffectiveness: ['heat'],
  bathApproach_K: ['heat'],
};

type NumberKey = { [K in keyof Case]-?: Case[K] extends number ? K : never }[keyof Case];

function scalar(c: Case, key: NumberKey, label: string, u: number): Input {
  const nominal = c[key];
  return {
    key,
    label,
    u,
    moves: MOVES[key] ?? 'pour',
    moved: (own, change, run) => during(own, key, nominal + change, run),
  };
}

/** Extracts or hops of a case that came from the same tin or packet, as their places in its list. */
type Group = readonly [first: number, ...rest: number[]];

const byName = (items: readonly { readonly name: string }[]): readonly Group[] => {
  const groups = new Map<string, [number, ...number[]]>();
  for (const [at, { name }] of items.entries()) {
    const group = groups.get(name.toLowerCase());
    if (group === undefined) groups.set(name.toLowerCase(), [at]);
    else group.push(at);
  }
  return [...groups.values()];
};

/** They move together, in proportion. */
const shared = (
  [list, key]: readonly ['parts', 'yield' | 'colour_L'] | readonly ['hops', 'alpha'],
  group: Group,
  label: string,
  u: number,
): Input => ({
  key,
  label,
  u,
  moves: MOVES[key] ?? 'pour',
  moved: (c, change, run) => {
    const items: { readonly [K in typeof key]?: number }[] = [...c[list]];
    for (const at of group) items[at] = { ...items[at], [key]: items[at]![key]! * (1 + change) };
    return during(c, list, items as never, run);
  },
});

function yieldDefault(batch: Batch, part: ExtractPart): InputDefaultKey {
  if (part.kind === 'grain') return 'yield.grain';
  if (part.kind === 'sugar') return 'yield.sugar';
  const form = batch.recipe.extract.find((item) => item.name === part.name)?.form;
  return form === 'dry' ? 'yield.dry extract' : 'yield.liquid extract';
}

/** Uncertainty that a recipe item states for itself, relative to its value; null where it states none. */
const statedRelative = (figure: Looked<Fraction> | undefined): number | null =>
  figure && figure.u !== null && figure.value > 0 ? figure.u / figure.value : null;

/** Of the apparent attenuation that a yeast shows in a wort of malt: the yeast's and the wort's; what was learned holds both. */
export const attenuation_u = ({ attenuation: { u, from } }: YeastItem): number =>
  from === 'learned' && u !== null ? u : Math.hypot(u ?? INPUT_DEFAULTS.attenuation.u, INPUT_DEFAULTS.wort.u);

export function uncertainInputs(batch: Batch, c: Case): readonly Input[] {
  const setup = batch.setup;
  const inputs: Input[] = [];
  const add = (input: Input) => {
    if (input.u > 0) inputs.push(input);
  };
  const kit = (key: NumberKey, label: string, figure: SetupFigure) => add(scalar(c, key, label, figure.u));
  const standard = (key: NumberKey, name: InputDefaultKey) =>
    add(scalar(c, key, INPUT_DEFAULTS[name].label, INPUT_DEFAULTS[name].u));

  const into = batch.recipe.intoFermenter_L;
  add(
    scalar(
      c,
      'fermenterMark_L',
      "the fermenter's volume mark",
      into.u ?? setup.instruments.fermenterMark_L.u,
    ),
  );
  kit('kettleMark_L', "the kettle's volume mark", setup.instruments.kettleMark_L);
  kit('scale', 'the kitchen scale', setup.instruments.scale);
  kit('thermometer_K', 'the thermometer', setup.instruments.thermometer_C);
  kitFigures(setup, kit);
  kit('kettleLoss_L', 'what stays in the kettle', kettleLoss(batch));
  if (c.steepGrain_kg > 0) kit('steepEfficiency', 'steep efficiency', setup.steepEfficiency);
  if (c.mashGrain_kg > 0) kit('mashEfficiency', 'mash efficiency', setup.mashEfficiency);
  if (c.steep ?? c.mash) standard('maltHeat_kJ_per_kgK', 'maltHeat');

  for (const group of byName(c.parts)) {
    const first = c.parts[group[0]]!;
    const fallback = INPUT_DEFAULTS[yieldDefault(batch, first)].u;
    const stated = statedRelative(batch.recipe[first.kind][first.index]?.yield);
    add(shared(['parts', 'yield'], group, `${first.name}: yield`, stated ?? fallback));
    if (first.colour_L > 0)
      add(shared(['parts', 'colour_L'], group, `${first.name}: colour`, INPUT_DEFAULTS.colour.u));
  }
  for (const group of byName(c.hops)) {
    const first = c.hops[group[0]]!;
    const u = statedRelative(batch.recipe.hops[first.index]?.alpha) ?? INPUT_DEFAULTS.alpha.u;
    add(shared(['hops', 'alpha'], group, `${first.name}: alpha acids`, u));
  }
  if (c.hops.some(({ stage }) => stage !== 'dry'))
    kit('chillIn_min', 'how long it chills', setup.chill.in_min);
  if (c.hops.length > 0) standard('tinseth', 'tinseth');
  standard('morey', 'morey');
  if (c.parts.some((part) => part.as === 'malt' && part.fermentability !== 1)) {
    standard('fermentability', 'fermentability');
  }
  if (batch.recipe.yeast.length > 0) {
    const u = Math.max(...batch.recipe.yeast.map(attenuation_u));
    add(scalar(c, 'attenuation', "the yeast's attenuation", u));
    standard('pitchingRate', 'pitchingRate');
  }
  standard('warmest_C', 'warmest');
  if (c.packages.some((part) => part.co2_g_per_g > 0)) standard('co2Yield', 'co2Yield');
  standard('beerSolubility', 'beerSolubility');
  if (c.packages.some(({ into }) => into === 'keg')) standard('kegSolubility', 'kegSolubility');
  if (c.chillWith === 'ice bath') {
    standard('bathEffectiveness', 'bathEffectiveness');
    standard('bathApproach_K', 'bathApproach');
  }
  return inputs;
}

function kitFigures(setup: Setup, kit: (key: NumberKey, label: string, figure: SetupFigure) => void): void {
  kit('boilOff_L_per_h', 'boil-off', setup.boilOff_L_per_h);
  kit('hopAbsorption_L_per_kg', 'wort held by the hops', setup.hopAbsorption_L_per_kg);
  kit('grainAbsorption_L_per_kg', 'water held by the grain', setup.grainAbsorption_L_per_kg);
  kit('heat_kW', 'the heat', setup.heat_kW);
  kit('fermenterLoss_L', 'what stays on the yeast', setup.fermenterLoss_L);
  kit('chillTo_C', 'how far it chills', setup.chill.to_C);
  kit('water_C', 'the tap water', setup.waterTemperature_C);
  kit('topUp_C', 'the top-up water', setup.topUpTemperature_C);
  kit('room_C', 'the room', setup.roomTemperature_C);
  kit('altitude_m', 'the altitude', setup.altitude_m);
}
