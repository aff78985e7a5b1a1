/** What goes into the sheet engine and what comes out of it. */

import type { SheetFault } from './faults.ts';

export type Paper = 'a4' | 'letter';

/** One finished HTML file to be printed as one PDF file. */
export interface SheetJob {
  readonly id: string;
  readonly htmlPath: string;
  readonly pdfPath: string;
  readonly paper: Paper;
}

/** A blank to be written in by pen: its number, what it stands for, and where it is on the paper. */
export interface SheetField {
  readonly id: string;
  readonly key: string;
  readonly meaning: string;
  /** Counted from 1. */
  readonly page: number;
  /** From the page's upper left corner. */
  readonly box_mm: {
    readonly x: number;
    readonly y: number;
    readonly width: number;
    readonly height: number;
  };
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
