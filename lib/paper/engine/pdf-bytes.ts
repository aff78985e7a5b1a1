/** Makes two printings of the same sheet the same file, without moving a byte. */

import { createHash } from 'node:crypto';

const FIXED_DATE = '20000101000000';
const DATE = /(\/(?:CreationDate|ModDate)\s*\(D:)(\d{14})([^)]*)\)/g;
const STRUCTURE_ID = /\(node(\d{8})\)/g;
const ID_TREE = /\/Limits \[[^\]]*\]\s\/Names \[((?:\(node\d{8}\) \d+ 0 R ?)+)\]/g;
const FILE_ID = /\/ID\s*\[\s*<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>\s*\]/;
const PAGE = /\/Type\s*\/Page(?![A-Za-z])/g;

/**
 * Sets the dates of a PDF to a fixed day, numbers the identifiers of its structure from 1 in the order in which
 * they stand in the file, and derives a file identifier, if there is one, from the content.
 *
 * The browser takes those identifiers from a counter of the tab, as it comes to look at each element: they tell
 * how much a tab printed before, and their order how busy the computer was. The tree that finds an element by
 * its identifier is sorted by the new ones (ISO 32000-1, 7.9.6). Every replacement has the length of what it
 * replaces: the cross-reference table stays true. Bytes inside streams are never touched.
 */
export function settleBytes(pdf: Uint8Array): Uint8Array {
  const settled = Buffer.from(pdf);
  const parts = outsideStreams(settled);
  const ids = new Set<string>();
  for (const { text } of parts) for (const match of text.matchAll(STRUCTURE_ID)) ids.add(match[1] ?? '');
  const numbered = new Map([...ids].map((id, at) => [id, String(at + 1).padStart(8, '0')]));

  for (const { start, text } of parts) {
    const calm = text
      .replace(DATE, (_, head: string, date: string, zone: string) => {
        return `${head}${FIXED_DATE.slice(0, date.length)}${zone.replace(/\d/g, '0').replace('-', '+')})`;
      })
      .replace(STRUCTURE_ID, (_, id: string) => `(node${numbered.get(id) ?? id})`)
      .replace(ID_TREE, (_, pairs: string) => {
        const names = pairs.split(/(?<=R) /).sort();
        const limits = [names[0], names.at(-1)].map((name = '') => name.slice(0, '(node00000000)'.length));
        return `/Limits [${limits.join(' ')}]\n/Names [${names.join(' ')}]`;
      });
    settled.write(calm, start, 'latin1');
  }
  settleFileId(settled, parts.at(-1));
  return settled;
}

/** Counts the pages of a PDF whose page objects are not packed, which is how browsers write them. */
export function countPages(pdf: Uint8Array): number {
  let pages = 0;
  for (const { text } of outsideStreams(Buffer.from(pdf))) pages += [...text.matchAll(PAGE)].length;
  return pages;
}

interface Part {
  readonly start: number;
  readonly text: string;
}

function outsideStreams(pdf: Buffer): Part[] {
  const parts: Part[] = [];
  let start = 0;
  while (start < pdf.length) {
    const opened = pdf.indexOf('stream\n', start, 'latin1');
    const openedCr = pdf.indexOf('stream\r\n', start, 'latin1');
    const end = firstOf(opened, openedCr, pdf.length);
    parts.push({ start, text: pdf.toString('latin1', start, end) });
    if (end === pdf.length) break;
    const closed = pdf.indexOf('endstream', end, 'latin1');
    if (closed === -1) break;
    start = closed + 'endstream'.length;
  }
  return parts;
}

function firstOf(a: number, b: number, none: number): number {
  if (a === -1) return b === -1 ? none : b;
  return b === -1 ? a : Math.min(a, b);
}

function settleFileId(pdf: Buffer, trailer: Part | undefined): void {
  const match = trailer && FILE_ID.exec(trailer.text);
  if (!match) return;
  const at = trailer.start + match.index;
  const blank = match[0].replace(/<[0-9a-fA-F]+>/g, (id) => `<${'0'.repeat(id.length - 2)}>`);
  pdf.write(blank, at, 'latin1');
  const digest = createHash('sha256').update(pdf).digest('hex');
  const derived = blank.replace(/0{2,}/g, (zeros) => digest.repeat(4).slice(0, zeros.length));
  pdf.write(derived, at, 'latin1');
}
