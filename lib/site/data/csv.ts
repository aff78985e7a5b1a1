import type { Cell, WrittenTable } from './columns.ts';

/** Texts that a spreadsheet would take for a formula. A number is none: it is written as a number. */
const FORMULA = /^[=+\-@\t\r]/;

/**
 * One cell as RFC 4180 has it: quoted where it holds a comma, a quote or a line end, quotes doubled.
 *
 * A text that begins like a formula gets an apostrophe in front, so that no spreadsheet runs what a recipe is called.
 */
export function csvCell(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  const text = FORMULA.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** A table as RFC 4180: a header line, CRLF after every line, as many cells in each. */
export function csvText({ columns, cells }: Pick<WrittenTable, 'columns' | 'cells'>): string {
  const lines = [columns.map(({ name }) => name), ...cells].map((line) => line.map(csvCell).join(','));
  return `${lines.join('\r\n')}\r\n`;
}
