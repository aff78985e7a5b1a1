import type { GivenAmount } from '../../units/parse/given.ts';

export const PHASES = ['gather', 'heat', 'steep', 'mash', 'boil', 'stand', 'chill', 'read', 'pitch'] as const;
export type Phase = (typeof PHASES)[number];

/** What a row of the timetable asks for: the act, its thing and its amounts; the words are made in `lib/words`. */
export type Act =
  /** The day before. Yeast that is dry is only fetched; other yeast may need a starter. */
  | { readonly action: 'prepare'; readonly thing: 'top-up water'; readonly volume_L: number }
  | { readonly action: 'prepare'; readonly thing: 'ice'; readonly ice_kg: number }
  | { readonly action: 'prepare'; readonly thing: 'dry yeast' | 'other yeast' }
  /** Dose and water are null where the setup does not state both. */
  | {
      readonly action: 'sanitise';
      readonly thing: 'sanitiser';
      readonly dose_L: number | null;
      readonly water_L: number | null;
    }
  | { readonly action: 'sanitise'; readonly thing: 'tools' }
  | {
      readonly action: 'fill';
      /** `rest` is what is left of the water once soaks have had theirs. */
      readonly thing: 'mash' | 'steep' | 'rest' | 'kettle';
      readonly volume_L: number;
    }
  /** `to_C` is null for the boil. */
  | { readonly action: 'heat'; readonly to_C: number | null; readonly minutes: number }
  | { readonly action: 'hold' | 'stand'; readonly at_C: number; readonly minutes: number }
  /** Waits: grain that drains, wort that comes back to the boil once the flame is on, the boil as a whole. */
  | { readonly action: 'drain' | 'flame on' | 'boil begins'; readonly minutes: number }
  | { readonly action: 'stir in'; readonly minutes: number }
  /** Water for the rinse, heated in another pot while the grain soaks. */
  | { readonly action: 'heat the rinse'; readonly volume_L: number; readonly to_C: number }
  | { readonly action: 'rinse'; readonly volume_L: number }
  | { readonly action: 'flame off'; readonly thing: 'grain' | 'extract' }
  /** What must be at hand when the boil ends; ice is null where the bath needs none. */
  | { readonly action: 'ready'; readonly bath: boolean; readonly ice_kg: number | null }
  | { readonly action: 'coil in' }
  | {
      readonly action: 'chill';
      readonly to_C: number;
      /** As far as a bath of cold water brings it before ice goes in; null where no ice is needed. */
      readonly bath_C: number | null;
      readonly ice_kg: number | null;
      readonly coil: boolean;
      readonly minutes: number;
    }
  | { readonly action: 'transfer'; readonly volume_L: number; readonly minutes: number }
  | {
      readonly action: 'top up';
      readonly volume_L: number;
      /** How warm the water may be; null where it does not matter. */
      readonly at_C: number | null;
      readonly to_L: number;
    }
  | { readonly action: 'read'; readonly minutes: number }
  | {
      readonly action:
        | 'weigh'
        | 'grain in'
        | 'grain out' // lift, never squeeze
        | 'watch' // for a boil-over
        | 'add'
        | 'flame out'
        | 'air'
        | 'pitch'
        | 'seal';
    };
export type Action = Act['action'];

/** Something of the recipe that a row uses. */
export interface RowItem {
  /** Key path below `recipe`, `hops[1]`. */
  readonly path: string;
  readonly name: string;
  readonly amount: GivenAmount;
  readonly note: string | null;
}

export type TimetableRow = {
  readonly phase: Phase;
  /** Minutes left of the boil; null outside it. */
  readonly minutes_left: number | null;
  /** Minutes after the kettle goes on; negative before. */
  readonly minute: number;
  /** Clock time due where the batch has a `start`, `14:50`. */
  readonly clock: string | null;
  readonly items: readonly RowItem[];
} & Act;
