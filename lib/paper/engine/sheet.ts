/** What goes into the sheet engine and what comes out of it. */

import type { SheetFault } from './faults.ts';

export type Paper = 'a4' | 'letter';

/** ISO 216 and ANSI/ASME Y14.1 (8.5 × 11 in). */
export const PAPER_MM: { readonly [P in Paper]: { readonly width: number; readonly height: number } } = {
  a4: { width: 210, height: 297 },
  letter: { width: 215.9, height: 279.4 },
};

/** One finished HTML file to be printed as one PDF file. */
export interface SheetJob {
  readonly id: string;
  readonly htmlPath: string;
  readonly pdfPath: string;
  readonly paper: Paper;
}

/** From the page's upper left corner, outer edges. */
export interface BoxMm {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A blank to be written in by pen: its number, its meaning, and where it and each of its boxes are on the paper. */
export interface SheetField {
  readonly id: string;
  readonly key: string;
  readonly meaning: string;
  readonly kind: string;
  /** Counted from 1. */
  readonly page: number;
  readonly box_mm: BoxMm;
  readonly groups: readonly {
    readonly part: string;
    readonly cells: readonly { readonly kind: string; readonly text: string; readonly box_mm: BoxMm }[];
  }[];
  /** The circle that says that it was left out. */
  readonly circle_mm: BoxMm | null;
}

export interface SheetResult {
  readonly id: string;
  /** `unchanged`: the file already had exactly these bytes and was left alone. */
  readonly status: 'rendered' | 'unchanged' | 'failed';
  readonly pages: number;
  readonly fields: readonly SheetField[];
  /** One sentence for each element that sticks out of its page or its box; the PDF is written all the same. */
  readonly overflow: readonly string[];
  readonly error?: SheetFault;
}

/** A sheet as it came out of the browser or the cache. */
export interface PrintedSheet {
  readonly pdf: Uint8Array;
  readonly pages: number;
  readonly fields: readonly SheetField[];
  readonly overflow: readonly string[];
}
