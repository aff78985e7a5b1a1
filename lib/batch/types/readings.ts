import type { Celsius, Gram, Minute } from '../../units/brands.ts';
import type { Given, GivenAmount, GivenGravity, GivenVolume } from '../../units/parse/given.ts';

/** `not taken` is an answer; an absent key is none. */
export type Reading<T> = T | 'not taken';

/** `13:35`. */
export type Clock = string;
/** `2026-02-14` or `2026-02-14 17:20`. */
export type Moment = { readonly date: string; readonly clock: Clock | null };

export interface FermentationRow {
  readonly on: Moment;
  readonly gravity: GivenGravity | null;
  readonly temperature_C: Given<Celsius> | null;
  readonly note: string | null;
}

/** What was written on the sheets and keyed in, by the file's own keys. */
export interface Readings {
  readonly heating_started?: Reading<Clock>;
  readonly steep_in?: Reading<Clock>;
  readonly steep_temperature?: Reading<Given<Celsius>>;
  readonly steep_out?: Reading<Clock>;
  readonly mash_in?: Reading<Clock>;
  readonly mash_temperature?: Reading<Given<Celsius>>;
  readonly mash_out?: Reading<Clock>;
  readonly boil_started?: Reading<Clock>;
  readonly boil_start_volume?: Reading<GivenVolume>;
  readonly boil_start_gravity?: Reading<GivenGravity>;
  readonly additions?: Reading<
    readonly {
      readonly at: string;
      readonly minutesLeft: Minute | null;
      /** Which of several at that moment, by the name of its item; null where it stands alone. */
      readonly what?: string | null;
      /** `left out`: it never went in. */
      readonly clock: Reading<Clock> | 'left out';
    }[]
  >;
  readonly boil_ended?: Reading<Clock>;
  readonly boil_end_volume?: Reading<GivenVolume>;
  readonly boil_end_gravity?: Reading<GivenGravity>;
  readonly chilled?: Reading<{ readonly at: Clock | null; readonly temperature_C: Given<Celsius> | null }>;
  readonly top_up?: Reading<{
    readonly volume: GivenVolume | null;
    readonly temperature_C: Given<Celsius> | null;
  }>;
  readonly original_gravity?: Reading<GivenGravity>;
  readonly fermenter_volume?: Reading<GivenVolume>;
  readonly pitched?: Reading<{
    readonly on: Moment;
    readonly temperature_C: Given<Celsius> | null;
    readonly yeast: GivenAmount | null;
  }>;
  readonly fermentation?: Reading<readonly FermentationRow[]>;
  readonly warmest_after?: Reading<Given<Celsius>>;
  /** A warm sample with fresh yeast, fermented to its end. */
  readonly fermented_out?: Reading<GivenGravity>;
  readonly final_gravity?: Reading<GivenGravity>;
  readonly packaged?: Reading<readonly PackagedReading[]>;
  readonly tasted?: Reading<
    readonly { readonly on: Moment; readonly score: number | null; readonly note: string | null }[]
  >;
  readonly abandoned?: { readonly on: Moment; readonly why: string };
}

export interface PackagedReading {
  readonly on: Moment;
  readonly into: 'bottles' | 'keg' | null;
  readonly volume: GivenVolume | null;
  readonly temperature_C: Given<Celsius> | null;
  readonly sugar_g: Given<Gram> | null;
  readonly bottles: number | null;
  /** Bottles that burst. */
  readonly burst?: number | null;
}
