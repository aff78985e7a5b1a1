export type Cell = string | number | null;

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

/** Lines as RFC 4180 has them: CRLF after every one. */
export const csvLines = (lines: readonly (readonly Cell[])[]): string =>
  lines.map((line) => `${line.map(csvCell).join(',')}\r\n`).join('');
