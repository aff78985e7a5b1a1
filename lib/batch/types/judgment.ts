/** What is said of a reading, as codes and facts; `lib/words/judgments.ts` makes the sentences. */

/** *calm* bears no mark; *look again* says what to look at; *act* says what to do. */
export const LEVELS = ['calm', 'look again', 'act'] as const;
export type Level = (typeof LEVELS)[number];

/** A beer's figures beside what is expected of it. Points are 0.001 SG. */
interface Standing {
  readonly gravity_SG: number;
  readonly expected_SG: number;
  /** Days for which readings agree. */
  readonly days: number;
}

/** Why a reading is as it is, with the facts of each. */
export interface CauseFacts {
  /** Outside what the instrument or its formula can tell. */
  fault: { readonly why: string };
  /** About ten times what was planned, or a tenth of it. */
  'decimal point': { readonly read: number; readonly planned: number; readonly unit: 'g' | 'L' | '' };
  /** Another volume than planned; the gravity that it gives by weight, and that was read with it. */
  volume: {
    readonly read_L: number;
    readonly planned_L: number;
    readonly gives_SG: number;
    readonly confirmed: boolean;
    /** Points of strength, volume per cent; null without yeast or without extract. */
    readonly alcohol_percent: number | null;
  };
  /** A gravity that the weights do not give. */
  weights: { readonly read_SG: number; readonly expected_SG: number };
  /** A gravity that a mash may well have given. */
  mash: { readonly read_SG: number; readonly expected_SG: number };
  /** Less extract than weighed, or more, by several gravities that agree. */
  'less extract': { readonly read_SG: number; readonly expected_SG: number };
  /** What explains several readings at once. */
  common: { readonly what: 'extract' | 'water' | 'evaporation' };
  /** More wort and a higher gravity, or less and a lower one. */
  contradiction: {
    readonly read_L: number;
    readonly planned_L: number;
    readonly read_SG: number;
    readonly expected_SG: number;
  };
  /** Off by more than all readings of the day together allow. */
  odd: { readonly read: number; readonly expected: number; readonly unit: 'L' | 'SG' };
  /** Temperature of wort and top-up together; `read` with a thermometer, else worked out. */
  mix: { readonly mix_C: number; readonly low_C: number; readonly high_C: number; readonly read: boolean };
  'boil length': { readonly minutes: number; readonly planned_min: number };
  late: { readonly what: string; readonly minutes: number };
  'left out': { readonly what: string };
  'bottle count': { readonly counted: number; readonly held: number };
  falling: Standing & { readonly fall_points: number; readonly since_days: number };
  'not yet flat': Standing & { readonly needed_days: number };
  'too few readings': { readonly gravity_SG: number | null };
  finished: Standing & { readonly below: boolean };
  nearly: Standing;
  'stopped high': Standing;
  'falling below': Standing;
  /** Gas in the bottles, volumes: likely, at most, and what they are made for. */
  gas: {
    readonly likely_vol: number;
    readonly at_most_vol: number;
    readonly limit_vol: number;
    /** What makes most of what is too much; null where nothing is. */
    readonly too_much: 'sugar' | 'fall' | 'margin' | null;
    readonly gravity_SG: number | null;
    readonly expected_SG: number | null;
  };
  carbonation: { readonly makes_vol: number; readonly planned_vol: number };
  burst: { readonly bottles: number };
}

/** What to do about it, with the facts of each. */
export interface ActFacts {
  'check the figure': Record<never, never>;
  'check the weights': Record<never, never>;
  'read again': Record<never, never>;
  'stir and read again': Record<never, never>;
  'stir and read both': Record<never, never>;
  'leave it': Record<never, never>;
  /** Nothing is to be done: the plan reckons with it. */
  counted: Record<never, never>;
  /** `wish`: only where the brewer wants the planned beer after all. */
  'add water': { readonly volume_L: number; readonly wish: boolean };
  'add extract': { readonly mass_g: number; readonly name: string; readonly wish: boolean };
  /** Before the countdown begins. */
  'fill up': { readonly volume_L: number };
  'boil down': { readonly minutes: number };
  'wait with the yeast': { readonly to_C: number; readonly warmer: boolean };
  'bring it back': { readonly to_C: number; readonly warmer: boolean };
  'next reading': { readonly on: string };
  'read once more': { readonly on: string; readonly below: boolean };
  'warm and rouse': { readonly on: string };
  package: Record<never, never>;
  'use less sugar': { readonly mass_g: number; readonly name: string };
  'stronger bottles': Record<never, never>;
  /** `opened`: some were, for a tasting. */
  'open one': { readonly opened: boolean };
  danger: Record<never, never>;
}

type Coded<Facts> = { readonly [C in keyof Facts]: { readonly code: C } & Readonly<Facts[C]> }[keyof Facts];
export type Cause = Coded<CauseFacts>;
export type Act = Coded<ActFacts>;

export interface Judgment {
  /** A key of `Plan.readings`. */
  readonly key: string;
  readonly level: Level;
  /** Null where there is nothing to say. */
  readonly cause: Cause | null;
  readonly do: Act | null;
}

/** How far a fermentation has come. */
export const FERMENTATION_STATES = [
  'too few readings',
  'still falling',
  'not yet flat',
  'nearly',
  'stopped high',
  'falling below',
  'finished',
  'given up',
] as const;
