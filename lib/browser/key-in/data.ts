import type { DoubtContext } from '../../key-in/corrected.ts';
import type { PaperPages, Raw } from '../../key-in/key-in.ts';
import type { ChangeWords } from '../../key-in/words.ts';
import type { BlankReading } from '../../photo/read-page.ts';
import type { PhotoPage } from '../../photo/strip.ts';

/** A photographed page beside the form: what each blank seems to say, and its crop as an address. */
export interface SeenPage {
  readonly name: string;
  readonly blanks: readonly (Omit<BlankReading, 'crop'> & { readonly src: string })[];
}

/** What the page of the form brings with it for its script, as JSON. */
export interface KeyInData extends Omit<DoubtContext, 'today'> {
  /** With a server the readings go into the file; without one they are made into a file of their own. */
  readonly mode: 'server' | 'offline';
  readonly slug: string;
  /** The readings as the file has them, every value as text. */
  readonly raw: Raw;
  /** What photographs of its paper are read by. */
  readonly photo: readonly PhotoPage[];
  /** Pages that were read before. */
  readonly seen: readonly SeenPage[];
  readonly paper: PaperPages | null;
}

export interface OutcomeLine extends Omit<ChangeWords, 'blank'> {
  readonly corrected: string;
  /** `a little off, most likely the boil-off`; empty where there is no target. */
  readonly verdict: string;
}

/** What the form sends to be saved, a file of readings as the form without a server makes it: no other site may send such. */
export const READINGS_TYPE = 'application/x-kettleside-readings';

export type SaveReply =
  | {
      readonly kind: 'saved';
      readonly lines: readonly OutcomeLine[];
      /** Whether it is finished, and when to look next; null without a log. */
      readonly fermentation: string | null;
      readonly data: KeyInData;
    }
  /** The file says other things by now than when it was opened; nothing was saved. */
  | { readonly kind: 'changed'; readonly data: KeyInData }
  | { readonly kind: 'refused'; readonly why: readonly string[] };
