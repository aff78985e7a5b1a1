import type { GivenAmount } from '../../units/parse/given.ts';

/** A figure of the brewer's setup: theirs, or the default marked as assumed. Unit in the key's name. */
export interface SetupFigure {
  readonly value: number;
  /** Standard uncertainty, the brewer's own or the default. */
  readonly u: number;
  readonly written: string | null;
  readonly assumed: boolean;
}

/** One entry of `content/setups.yaml`; every default is in `defaults.ts` with its reason. */
export interface Setup {
  readonly key: string;
  readonly title: string;
  readonly kettle_L: SetupFigure;
  readonly heat_kW: SetupFigure;
  readonly boilOff_L_per_h: SetupFigure;
  readonly kettleLoss_L: SetupFigure;
  readonly hopAbsorption_L_per_kg: SetupFigure;
  readonly grainAbsorption_L_per_kg: SetupFigure;
  readonly fermenter_L: SetupFigure | null;
  readonly fermenterLoss_L: SetupFigure;
  readonly steepEfficiency: SetupFigure;
  readonly mashEfficiency: SetupFigure;
  readonly chill: {
    readonly to_C: SetupFigure;
    readonly in_min: SetupFigure;
    readonly with: 'ice bath' | 'cold-water bath' | 'coil' | 'none';
    readonly assumed: boolean;
  };
  readonly waterTemperature_C: SetupFigure;
  readonly topUpTemperature_C: SetupFigure;
  readonly roomTemperature_C: SetupFigure;
  readonly altitude_m: SetupFigure;
  readonly hydrometer: {
    readonly at_C: SetupFigure;
    readonly step: number;
    readonly u: number;
    readonly assumed: boolean;
  };
  readonly refractometerFactor: SetupFigure;
  readonly sanitiser: {
    readonly dose_ml_per_L: number;
    readonly doseWritten: string;
    readonly make: GivenAmount | null;
    readonly note: string | null;
  } | null;
  /** Instruments and marks: relative or absolute standard uncertainties, overridable under `uncertainty:`. */
  readonly instruments: {
    /** Volume mark in the kettle, L. */
    readonly kettleMark_L: SetupFigure;
    /** Volume mark on the fermenter, L. */
    readonly fermenterMark_L: SetupFigure;
    /** Kitchen scale, share of the weight. */
    readonly scale: SetupFigure;
    readonly thermometer_C: SetupFigure;
  };
  readonly learned: 'show' | 'use';
}
