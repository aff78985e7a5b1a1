/** A row of a CSV file and the line that it begins on, counted from 1. */
export interface CsvRow {
  readonly line: number;
  readonly cells: readonly string[];
}

export type CsvRead =
  | { readonly ok: true; readonly rows: readonly CsvRow[]; readonly separator: string }
  | { readonly ok: false; readonly line: number; readonly found: string; readonly mend: string };

const SEPARATORS = [',', ';', '\t'] as const;

/** The separator that comes most often in the first line, outside quotes. */
function separatorOf(text: string): string {
  const first = (/^[^\r\n]*/.exec(text)?.[0] ?? '').replaceAll(/"[^"]*"/g, '');
  const counts = SEPARATORS.map((sign) => first.split(sign).length);
  return SEPARATORS[counts.indexOf(Math.max(...counts))] ?? ',';
}

/**
 * Reads a CSV file as spreadsheets write them: RFC 4180, or with semicolons or tabs, any line end, a byte order mark.
 *
 * A quote inside an unquoted cell is a plain sign. Empty lines are passed over. A quote that is never closed is a fault of the
 * whole file: nobody can tell where the rows end.
 */
export function readCsv(text: string, separator?: string): CsvRead {
  const source = text.replace(/^\ufeff/, '');
  const by = separator ?? separatorOf(source);
  // What is in quotes, what follows it, and the sign that ends the cell.
  const cell = new RegExp(`(?:"((?:[^"]|"")*)"(?!"))?([^${by}\\r\\n]*)(${by}|\\r\\n?|\\n|$)`, 'y');
  const rows: CsvRow[] = [];
  let cells: string[] = [];
  let line = 1;
  let begun = 1;
  let end = '';
  // A separator at the very end opens one more, empty cell.
  while (cell.lastIndex < source.length || end === by) {
    const [whole, quoted, rest = '', sign = ''] = cell.exec(source) ?? [''];
    if (quoted === undefined && rest.startsWith('"')) {
      const mend = 'close it, or write a quote inside a quoted cell twice';
      return { ok: false, line, found: 'a quote that is opened and never closed', mend };
    }
    cells.push((quoted ?? '').replaceAll('""', '"') + rest);
    line += whole.split(/\r\n|\n|\r/).length - 1;
    end = sign;
    if (end === by) continue;
    if (cells.some((one) => one.trim() !== '')) rows.push({ line: begun, cells });
    cells = [];
    begun = line;
  }
  return { ok: true, rows, separator: by };
}
