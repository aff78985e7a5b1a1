/** What can go wrong between an HTML file and a whole PDF file, as data. */

/** Permanent codes, listed in DEVELOPERS.md. */
export const SHEET_CODES = {
  'browser-missing': 'no browser was found to print with',
  'browser-start': 'the browser does not start',
  'browser-crash': 'the browser ended while it was printing, twice for the same sheet',
  'sheet-file': 'the HTML of a sheet is missing or cannot be read',
  'sheet-layout': 'the pages could not be laid out, or lost a part of the sheet',
  'sheet-asset': 'a file that the sheet needs is missing, or it asked for something on a network',
  'sheet-paper': 'the pages do not have the size of the paper',
  'sheet-pages': 'the PDF has another number of pages than were laid out',
  'sheet-timeout': 'the sheet took longer than the time limit',
  'sheet-overflow': 'something sticks out of its page or its box; the PDF is there all the same',
  'disk-full': 'the disk is full',
  'output-folder': 'the folder cannot be written to',
} as const;
export type SheetFaultCode = keyof typeof SHEET_CODES;

export interface SheetFault {
  /** Permanent. */
  readonly code: SheetFaultCode;
  readonly found: string;
  readonly expected: string;
  readonly mend: string;
}

/** Carries a fault up to where a job ends; it never leaves the engine. */
export class SheetFaultError extends Error {
  readonly fault: SheetFault;

  constructor(fault: SheetFault) {
    super(`${fault.code}: ${fault.found}`);
    this.name = 'SheetFaultError';
    this.fault = fault;
  }
}

/** The first line of whatever was thrown. */
export function firstLine(thrown: unknown): string {
  const text = thrown instanceof Error ? thrown.message : String(thrown);
  return text.split('\n', 1)[0]?.trim() ?? '';
}

/** The system's code of an error from reading or writing (`ENOSPC`), or an empty text. */
export function systemCode(thrown: unknown): string {
  if (thrown instanceof Error && 'code' in thrown && typeof thrown.code === 'string') return thrown.code;
  return '';
}

/** Says why a file could not be written: a full disk and a closed folder are mended differently. */
export function writeFault(thrown: unknown, path: string): SheetFault {
  const code = systemCode(thrown);
  if (code === 'ENOSPC' || code === 'EDQUOT') {
    return {
      code: 'disk-full',
      found: `no space left while writing ${path}`,
      expected: 'room for the finished sheet',
      mend: 'free some space, then build again; sheets that were finished are kept',
    };
  }
  return {
    code: 'output-folder',
    found: `${path} cannot be written (${code || firstLine(thrown)})`,
    expected: 'a folder in which this user may write',
    mend: 'check the folder and its permissions, or close the program that has the sheet open, then build again',
  };
}
