import type { Caution } from '../words/cautions.ts';
import type { Field } from './blanks.ts';

/** What stands in the gauge beside a step: the minute in large, the clock time due below. */
export interface Mark {
  readonly number: string;
  readonly due: string | null;
}

/** One box or one printed sign of a blank. */
export interface Cell {
  readonly kind: 'digit' | 'letter' | 'sign' | 'gap';
  readonly text: string;
}

export interface CellGroup {
  readonly part: string;
  readonly before: string;
  readonly unit: string;
  readonly cells: readonly Cell[];
}

/** A blank ready to be set: its boxes, and the range that is fine on the same row. */
export interface FieldView extends Pick<Field, 'id' | 'key' | 'kind' | 'label'> {
  readonly groups: readonly CellGroup[];
  /** `fine 10.3 to 11.6 L`; null where nothing is held against it. */
  readonly range: string | null;
}

export interface StepBlock {
  readonly kind: 'step';
  readonly mark: Mark | null;
  /** It may boil over here: stands in the gauge. */
  readonly watch: boolean;
  /** Too long to stand beside its blanks: they go below. */
  readonly long: boolean;
  readonly cautions: readonly Caution[];
  readonly act: string;
  readonly rest: string;
  /** Smaller lines below: how long it takes, what is fine, what is assumed. */
  readonly notes: readonly string[];
  readonly fields: readonly FieldView[];
}

export interface AdditionLine {
  readonly act: string;
  readonly rest: string;
  readonly note: string | null;
  /** Only what goes in has a box to tick. */
  readonly tick: boolean;
}

/** Everything that happens at one minute of the boil. */
export interface AdditionGroup {
  /** Minutes left in large, or the word `Stand`. */
  readonly left: string;
  readonly word: boolean;
  readonly gone: string;
  readonly due: string | null;
  readonly lines: readonly AdditionLine[];
  readonly watch: boolean;
  readonly pause: string | null;
  /** The clock times to note: when it went in, and at the last minute when the flame went out. */
  readonly fields: readonly FieldView[];
}

export interface AdditionsBlock {
  readonly kind: 'additions';
  readonly caution: Caution | null;
  readonly clocks: boolean;
  readonly groups: readonly AdditionGroup[];
  /** What is read when the boil is over: never on a page without the last addition. */
  readonly after: readonly FieldView[];
}

export interface FieldsBlock {
  readonly kind: 'fields';
  readonly fields: readonly FieldView[];
}

/** The two strips beside the reading: for the sample's temperature, and for a reading that is off. */
export interface StripsBlock {
  readonly kind: 'strips';
  readonly lookup: readonly { readonly temperature: string; readonly change: string }[];
  readonly corrections: readonly {
    readonly reading: string;
    readonly meaning: string;
    readonly remedy: string;
    readonly fine: boolean;
  }[];
  /** How extract and water are stirred in, said once for all rows. */
  readonly how: string | null;
}

export type SheetBlock = StepBlock | AdditionsBlock | FieldsBlock | StripsBlock;

export interface Stage {
  readonly id: string;
  /** null where the stage goes on from the one before. */
  readonly title: string | null;
  /** True where the stage begins a page. */
  readonly page: boolean;
  /** What the signs of this stage mean; null where it has none. */
  readonly legend: string | null;
  readonly blocks: readonly SheetBlock[];
}

/** A value at 28 pt with its range beneath. */
export interface Headline {
  readonly label: string;
  readonly number: string;
  readonly unit: string;
  readonly range: string | null;
}

/** What the header of every page says. */
export interface SheetHead {
  readonly title: string;
  readonly sheet: string;
  /** `Batch 12, 14 Feb 2026`. */
  readonly line: string;
  readonly revision: string;
  /** The batch's number, large in the gauge. */
  readonly number: string | null;
  /** The kit it is planned for; null where it does not matter. */
  readonly setup: string | null;
}
