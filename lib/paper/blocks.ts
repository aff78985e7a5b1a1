import type { Caution } from '../words/cautions.ts';
import type { StepWords } from '../words/words.ts';
import type { Field } from './blanks.ts';

/** What is in the gauge: before and after the boil the time, in the boil the minutes left and small the time due. */
export interface Mark {
  /** `14:50` or `2:50`; `+0:25` after the kettle goes on where no clock is known; null in the boil without one. */
  readonly time: string | null;
  /** `am` or `pm` on a clock of twelve hours. */
  readonly half: string | null;
  /** Minutes left in large, white on black; null outside the boil. */
  readonly left: string | null;
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
  /** `fine 10.3 to 11.6 L`; null where nothing is compared with it. */
  readonly range: string | null;
  /** An addition can be left out: a circle to mark. */
  readonly leftOut: boolean;
  /** Boxes of 6 by 9 mm. */
  readonly small: boolean;
  /** Its label is before it, and not above. */
  readonly beside: boolean;
}

export interface TitleBlock {
  readonly kind: 'title';
  readonly title: string;
}

/** What is done at one moment: one sentence or two that belong together, with its blanks beside it. */
export interface StepBlock {
  readonly kind: 'step';
  /** Null where the step above is at the same minute. */
  readonly mark: Mark | null;
  /** In the boil the time due has a column of its own, where the day has a clock. */
  readonly dueColumn: boolean;
  readonly cautions: readonly Caution[];
  readonly words: readonly StepWords[];
  /** Smaller lines below: how long it takes, what is fine, what is assumed. */
  readonly notes: readonly string[];
  /** Only what goes into the pot has a box to tick. */
  readonly tick: boolean;
  readonly fields: readonly FieldView[];
}

/** Blanks of readings that belong to no act. */
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

export interface NotesBlock {
  readonly kind: 'notes';
}

export type SheetBlock = TitleBlock | StepBlock | FieldsBlock | StripsBlock | NotesBlock;

/** A value set large with its range beneath. */
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
  /** The setup it is planned for; null where it does not matter. */
  readonly setup: string | null;
  /** The code strips of pages 1 to 15, 64 cells each as 16 hexadecimal digits. */
  readonly strips: string;
}
