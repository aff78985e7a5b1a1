/** Figures as a person gave them: the value in the internal unit, their uncertainty if stated, and their words. */

export interface Given<T extends number> {
  /** In the internal unit of the dimension. */
  readonly value: T;
  /** Standard uncertainty in the internal unit, where written as `2.2 ± 0.3 L/h`; otherwise null. */
  readonly u: number | null;
  /** As the brewer wrote it, to be shown again unchanged. */
  readonly written: string;
}

/** A band such as `17-21 °C`; a single figure has low = high. */
export interface GivenRange<T extends number> {
  readonly low: T;
  readonly high: T;
  readonly written: string;
}

/** A density reading by hydrometer (`sg`, `plato`) or refractometer (`brix`), not yet corrected for anything. */
export interface GivenGravity {
  readonly scale: 'sg' | 'plato' | 'brix';
  readonly value: number;
  readonly u: number | null;
  /** Temperature of the sample, °C; null means the instrument's own calibration temperature. */
  readonly sample_C: number | null;
  readonly written: string;
}

/** A volume reading with the temperature it was read at (`9.7 L @ 60 °C`), null where the key's own rule holds. */
export interface GivenVolume {
  readonly value: number;
  readonly u: number | null;
  readonly at_C: number | null;
  readonly written: string;
}

/** An amount of something that no formula weighs: grams, litres, or a count with or without a word. */
export interface GivenAmount {
  readonly value: number;
  readonly unit: 'g' | 'L' | 'count';
  readonly written: string;
}
