/** What a setup really does, worked back from the batches brewed with it: the types that learning hands around. */

/**
 * Figures of a setup that readings can tell, by their key in `setups.yaml`, in the order of the day. What grain holds is not among
 * them: no reading says how much water went in.
 */
export const LEARNED_KEYS = [
  'heat',
  'steep_efficiency',
  'mash_efficiency',
  'boil_off',
  'chill.to',
  'chill.in',
  'kettle_loss',
  'hop_absorption',
  'fermenter_loss',
] as const;
export type LearnedKey = (typeof LEARNED_KEYS)[number];

/** One cause of doubt about an observation: what it moves the result by when it is out by one standard uncertainty. */
export interface Doubt {
  readonly input: string;
  readonly effect: number;
  /** True where other batches are out by the same: the same scale, the same tin, the same tap water. */
  readonly shared: boolean;
}

/** What one batch says of one figure, in the figure's own unit. */
export interface Observed {
  readonly slug: string;
  /** `2026-02-14`. */
  readonly brewed: string;
  readonly value: number;
  /** Combined standard uncertainty. */
  readonly u: number;
  readonly doubts: readonly Doubt[];
}

/** A batch's observation beside the others. */
export interface Point {
  readonly slug: string;
  readonly brewed: string;
  readonly value: number;
  readonly u: number;
  /** Distance from what the setup and all other batches together say, in combined standard uncertainties. */
  readonly residual: number;
  /** More than three of them off: named, and left out of the figure. */
  readonly outlier: boolean;
}

export interface Estimate {
  readonly value: number;
  /** Standard uncertainty of the setup's own figure. */
  readonly u: number;
}

export interface Learned extends Estimate {
  /** Standard uncertainty of the next brew's: the figure's own and how far batches differ from day to day. */
  readonly next_u: number;
  /** Standard deviation from batch to batch beyond what the instruments explain; 0 where none shows. */
  readonly scatter: number;
  readonly prior: Estimate;
  /** How many batches stand behind it, outliers not counted. */
  readonly batches: number;
  readonly points: readonly Point[];
  /** With the outliers in; null where there are none. */
  readonly withOutliers: Estimate | null;
}

export type LearnedSetup = { readonly [K in LearnedKey]: Learned | null };

/** What a plan may be made with: figures of the setup, and how far a yeast ferments. */
export const USED_KEYS = [...LEARNED_KEYS, 'attenuation'] as const;

export interface UsedFigure {
  readonly key: (typeof USED_KEYS)[number];
  /** The yeast, for its attenuation; absent for figures of the setup. */
  readonly yeast?: string;
  /** In the key's own unit: kW, L/h, L, L/kg, min, or a share. */
  readonly value: number;
  readonly u: number;
  readonly batches: number;
  /** What the setup says; for a yeast the recipe or the table. */
  readonly setup_value: number;
}

/** Below so many batches it is too early to say, and nothing is planned with. */
export const LEAST_BATCHES = 3;

/** Where a residual begins to be named, combined standard uncertainties. Common practice: three sigma. */
export const OUTLIER_SIGMAS = 3;
