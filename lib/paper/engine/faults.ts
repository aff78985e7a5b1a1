/** What can go wrong between an HTML file and a whole PDF file, as data. */
import { type Catalogue, type Facts, type Said, say } from '../../units/problem.ts';

/** Every problem of printing a sheet. */
export const SHEET_PROBLEMS = {
  'browser-missing': ['No browser was found to print with.', '{found}', 'a Chromium-based browser', '{mend}'],
  'browser-start': [
    'The browser does not start.',
    ['the bundled browser could not be unpacked to {folder}: {reason}', '{path} does not start: {reason}'],
    [
      'a cache folder{unpacking} with 200 MB of room in which this user may write',
      'a Chromium-based browser that starts without a window',
    ],
    [
      'set XDG_CACHE_HOME{unpacking} to such a folder, or KETTLESIDE_BROWSER to an installed browser',
      'set KETTLESIDE_BROWSER to another browser; where the system forbids sandboxes, KETTLESIDE_BROWSER_SANDBOX=off starts it without one',
    ],
  ],
  'browser-crash': [
    'The browser ended while it was printing, twice for the same sheet.',
    'the browser ended twice while it printed this sheet: {reason}',
    'a browser that runs until it is told to end',
    'close other programs to free memory, or set KETTLESIDE_BROWSER to another browser than {path}',
  ],
  'sheet-file': [
    'The HTML of a sheet is missing or cannot be read.',
    '{sheet} cannot be read: {reason}',
    'a finished HTML sheet',
    'build the site, then print its sheets',
  ],
  'sheet-layout': [
    'The pages could not be laid out, or lost a part of the sheet.',
    '{sheet} could not be laid out: {reason}',
    'every part of the sheet on a page',
    'shorten the part named, or let it break over pages',
  ],
  'sheet-asset': [
    'A file that the sheet needs is missing, or it asked for something on a network.',
    '{sheet} asks for {asset}, which cannot be had',
    'a sheet that needs nothing but files beside it; nothing is fetched from a network',
    'put the file there, or write it into the sheet',
  ],
  'sheet-paper': [
    'The pages do not have the size of the paper.',
    '{sheet} is laid out for {laid} mm',
    '{paper}',
    'set the size in the @page rule of the sheet',
  ],
  'sheet-pages': [
    'The PDF has another number of pages than were laid out.',
    '{sheet} was laid out on {laid} pages and printed on {printed}',
    'the same number of pages',
    'look for a screen element without data-screen-only, or a style that differs in print',
  ],
  'sheet-timeout': [
    'The sheet took longer than the time limit.',
    '{sheet} was not finished after {limit} s',
    'a sheet that is laid out and printed in that time',
    'look whether the page shows in a browser, or raise the time limit on a slow computer',
  ],
  'sheet-overflow': [
    'Something sticks out of its page or its box; the PDF is there all the same.',
    '{found}',
    'everything inside its page and its box; the PDF is there all the same',
    'shorten the names and notes in question',
  ],
  'disk-full': [
    'The disk is full.',
    'no space left while writing {path}',
    'room for the finished sheet',
    'free some space, then build again; sheets that were finished are kept',
  ],
  'output-folder': [
    'The folder cannot be written to.',
    '{path} cannot be written ({reason})',
    'a folder in which this user may write',
    'check the folder and its permissions, or close the program that has the sheet open, then build again',
  ],
} as const satisfies Catalogue;
type SheetFaultCode = keyof typeof SHEET_PROBLEMS;

export type SheetFault = Said<SheetFaultCode>;

export const sheetFault = <C extends SheetFaultCode>(
  code: C,
  ...facts: Facts<(typeof SHEET_PROBLEMS)[C]>
): SheetFault => say(SHEET_PROBLEMS, code, ...facts);

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
  if (code === 'ENOSPC' || code === 'EDQUOT') return sheetFault('disk-full', { path });
  return sheetFault('output-folder', { path, reason: code || firstLine(thrown) });
}
