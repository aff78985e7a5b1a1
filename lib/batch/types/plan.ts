import type { Problem } from '../../units/problem.ts';
import type { BottleJudgment, Judgment } from './judgment.ts';
import type { UsedFigure } from './learning.ts';

/** A target: value unrounded; low and high = value ∓ 2u, the reading instrument's own u included where it will be read. */
export interface Figure {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Rounded outward as the sheet prints it. */
  readonly printed: { readonly low: number; readonly high: number };
  /** Largest first: shares of the variance. */
  readonly contributors: readonly { readonly input: string; readonly share: number }[];
}

/** Every key is always present; null where it does not apply. Volumes at 20 °C unless the key says `hot`; gauge pressures. */
export const TARGET_KEYS = [
  'original_gravity',
  'final_gravity',
  'original_extract_plato',
  'alcohol_volume_percent',
  'alcohol_mass_percent',
  'bitterness_ibu',
  'colour_ebc',
  'colour_srm',
  'energy_kcal_per_litre',
  'apparent_attenuation_percent',
  'water_to_heat_l',
  'boil_start_volume_l',
  'boil_start_gravity',
  'boil_end_volume_l',
  'boil_end_gravity',
  'boil_start_volume_hot_l',
  'boil_end_volume_hot_l',
  'kettle_fill_percent',
  'top_up_l',
  'top_up_c',
  'fermenter_volume_l',
  'chill_to_c',
  'steep_water_c',
  'strike_water_c',
  'minutes_to_steep',
  'minutes_to_boil',
  'minutes_back_to_boil',
  'ice_kg',
  'yeast_cells_billion',
  'yeast_packs',
  'packaged_volume_l',
  'bottles',
  'priming_sugar_g',
  'residual_co2_vol',
  'bottle_pressure_20c_kpa',
  'bottle_pressure_30c_kpa',
  'keg_pressure_kpa',
] as const;
export type TargetKey = (typeof TARGET_KEYS)[number];
export type Targets = { readonly [K in TargetKey]: Figure | null };

export const PHASES = ['gather', 'heat', 'steep', 'mash', 'boil', 'stand', 'chill', 'read', 'pitch'] as const;
export type Phase = (typeof PHASES)[number];

/** Acts that a timetable row can ask for; the words on paper are chosen by `lib/words`. */
export type Action =
  | 'prepare' // the day before and before the kettle goes on
  | 'sanitise'
  | 'weigh'
  | 'fill'
  | 'heat'
  | 'grain in'
  | 'hold'
  | 'grain out' // lift and drain, never squeeze
  | 'rinse'
  | 'flame off'
  | 'stir in'
  | 'flame on'
  | 'boil begins'
  | 'watch' // for a boil-over
  | 'add'
  | 'flame out'
  | 'stand'
  | 'chill'
  | 'transfer'
  | 'top up'
  | 'read'
  | 'air'
  | 'pitch'
  | 'seal';

export interface TimetableRow {
  readonly phase: Phase;
  /** Minutes left of the boil; null outside it. */
  readonly minutes_left: number | null;
  /** Minutes after the kettle goes on; negative before. */
  readonly minute: number;
  readonly action: Action;
  /** A thing or a plain sentence. */
  readonly what: string;
  /** As the brewer wrote it, or computed in the brewer's units; null where there is none. */
  readonly amount: string | null;
  /** Clock time due where the batch has a `start`, `14:50`. */
  readonly clock: string | null;
  /** Recipe items that this row uses, as key paths below `recipe` (`hops[1]`). */
  readonly items: readonly string[];
}

export interface BitternessRow {
  readonly what: string;
  /** `hops[1]` or `extract[0]`. */
  readonly item: string;
  readonly equivalent_minutes: number | null;
  readonly mean_gravity: number | null;
  readonly utilisation: number | null;
  readonly ibu: number | null;
  /** `little, not counted` for flame-out hops without a stand; null elsewhere. */
  readonly remark: string | null;
}

export interface KettleRow {
  readonly minutes_left: number;
  /** At 20 °C. */
  readonly volume_l: number;
  readonly gravity: number;
}

export type VerdictWord = 'fine' | 'a_little_off' | 'off' | 'not_taken';

export interface ReadingVerdict {
  /** As keyed, reduced to 20 °C and SG 20/20; null where not taken. */
  readonly value: number | null;
  /** null where the reading has no target to be held against. */
  readonly verdict: VerdictWord | null;
  readonly target: TargetKey | null;
  /** The input of the plan that most likely explains a figure that is off. */
  readonly likeliest_cause: string | null;
  /** True where another reading contradicts it: nothing is worked out or learned from it. */
  readonly doubted?: true;
}

/** One row of the sheet's *if it is off* strip. */
export interface CorrectionRow {
  /** Gravity read, SG 20/20, from and to (printed steps). */
  readonly from: number | null;
  readonly to: number | null;
  readonly meaning: 'far below' | 'below' | 'fine' | 'above' | 'far above';
  readonly add_water_l: number | null;
  readonly add_extract_g: number | null;
  readonly boil_on_min: number | null;
}

/** Sample temperature against what to add to the hydrometer's reading, in SG. */
export interface SampleCorrection {
  readonly temperature_c: number;
  readonly add: number;
}

export interface PrimingRow {
  readonly volume_l: number;
  /** By column of `PrimingTable.temperatures_c`. */
  readonly sugar_g: readonly number[];
}
export interface PrimingTable {
  readonly sugar: string;
  readonly carbonation_vol: number;
  readonly temperatures_c: readonly number[];
  readonly rows: readonly PrimingRow[];
}

/** When a beer counts as finished: the boxes of the cellar sheet. */
export interface Finish {
  /** Days for which readings must agree; twice as many where the last is a point lower. */
  readonly days: number;
  /** How far apart readings may lie, SG. */
  readonly apart: number;
  /** As the wort that was brewed lets expect, SG 20/20. */
  readonly expected_gravity: number;
  /** Flat at or below it the beer is finished. */
  readonly finished_at_most: number;
  /** Flat at or below it the beer is nearly finished; above, it has stopped high. */
  readonly nearly_at_most: number;
}

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

export interface Fermentation {
  readonly state: (typeof FERMENTATION_STATES)[number];
  /** Day of the next reading, `2026-02-21`; null where none is due. */
  readonly next: string | null;
  /** The day on which the plan was made, where a reading that was due earlier was put off to it; null else. */
  readonly as_of: string | null;
}

/** A curve fitted to the log: what to expect. Whether it is finished is told by `Fermentation` alone. */
export interface FermentationCurve {
  /** Where the curve's equation is published. */
  readonly model: string;
  /** When the yeast went in, from which the days count: `2026-02-14 17:20`, or a day alone, which then counts from its noon. */
  readonly pitched: string;
  /** Gravities that it was fitted to, by key below `readings`; `outlier`: too far from the curve to count in full. */
  readonly readings: readonly {
    readonly key: string;
    readonly day: number;
    readonly gravity: number;
    readonly u: number;
    readonly outlier: boolean;
  }[];
  /** Where the gravity is expected to end, SG 20/20. */
  readonly end_gravity: Pick<Figure, 'value' | 'low' | 'high' | 'printed'>;
  /** Day from which less is left to fall than a reading shows; null where the readings do not tell. */
  readonly end_day: { readonly expected: string; readonly earliest: string; readonly latest: string } | null;
  /** Days from pitching, with the band of two standard uncertainties. */
  readonly points: readonly {
    readonly day: number;
    readonly gravity: number;
    readonly low: number;
    readonly high: number;
  }[];
}

/** Everything computed for a batch, in SI-based units: the shape of `plan.json`. */
export interface Plan {
  readonly version: 1;
  readonly slug: string;
  readonly title: string;
  /** Short hash of recipe, setup and targets: stands on every sheet. */
  readonly revision: string;
  readonly setup: { readonly key: string; readonly title: string };
  readonly targets: Targets;
  readonly timetable: readonly TimetableRow[];
  readonly bitterness: readonly BitternessRow[];
  readonly kettle: readonly KettleRow[];
  /** Pauses of the countdown: minutes left at which the flame is off, and how long it takes to boil again. */
  readonly pauses: readonly { readonly minutes_left: number; readonly minutes: number }[];
  readonly corrections: readonly CorrectionRow[];
  readonly sample_corrections: readonly SampleCorrection[];
  readonly priming: PrimingTable | null;
  /** Cells and packs by yeast item, and where the rate comes from. */
  readonly yeast: readonly {
    readonly name: string;
    readonly wanted_billion: number;
    readonly packs: number;
    readonly pack: string;
  }[];
  /** Setup figures and uncertainties that are defaults: the sheet marks them. */
  readonly assumed: readonly { readonly key: string; readonly value: string; readonly reason: string }[];
  /** Figures of the kit that were learned from earlier batches and used here; absent where none was. */
  readonly learned?: readonly UsedFigure[];
  readonly readings: Readonly<Record<string, ReadingVerdict>>;
  /** What is said of the readings, in the order of the day. */
  readonly judgments: readonly Judgment[];
  /** By bottled part; null where nothing is bottled, nothing tells of the gas, or it plainly still ferments. */
  readonly bottles: readonly BottleJudgment[] | null;
  /** Targets recomputed from what was read; null without readings. */
  readonly as_brewed: Partial<Targets> | null;
  /** When it counts as finished; null without yeast. */
  readonly finish: Finish | null;
  /** Whether it is finished, from the log; null without one. */
  readonly fermentation?: Fermentation | null;
  /** The curve fitted to the log; absent without two days of readings that show a fall. */
  readonly fermentation_curve?: FermentationCurve;
  readonly swatch: { readonly srgb: string } | null;
  readonly warnings: readonly { readonly code: string; readonly key: string; readonly message: string }[];
}

export type PlanResult =
  | { readonly ok: true; readonly plan: Plan; readonly warnings: readonly Problem[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };
