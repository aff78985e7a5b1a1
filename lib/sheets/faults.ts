/** What can go wrong between an HTML file and a whole PDF file, as data. */

export type SheetFaultCode =
  | 'browser-missing'
  | 'browser-start'
  | 'browser-crash'
  | 'sheet-file'
  | 'sheet-layout'
  | 'sheet-asset'
  | 'sheet-paper'
  | 'sheet-pages'
  | 'sheet-timeout'
  | 'disk-full'
  | 'output-folder';

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
