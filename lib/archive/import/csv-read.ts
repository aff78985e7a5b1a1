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
  const rows: CsvRow[] = [];
  let cells: string[] = [];
  let line = 1;
  let begun = 1;
  let at = 0;
  const endRow = (): void => {
    if (cells.some((cell) => cell.trim() !== '')) rows.push({ line: begun, cells });
    cells = [];
    begun = line;
  };
  while (at < source.length) {
    let cell = '';
    if (source[at] === '"') {
      const opened = line;
      at++;
      for (;;) {
        const next = source.indexOf('"', at);
        if (next < 0) {
          return {
            ok: false,
            line: opened,
            found: 'a quote that is opened and never closed',
            mend: 'close it, or write a quote inside a quoted cell twice',
          };
        }
        cell += source.slice(at, next);
        at = next + 1;
        if (source[at] !== '"') break;
        cell += '"';
        at++;
      }
      line += cell.split(/\r\n|\n|\r/).length - 1;
    }
    const from = at;
    while (at < source.length && source[at] !== by && source[at] !== '\r' && source[at] !== '\n') at++;
    cells.push(cell + source.slice(from, at));
    if (source[at] === by) {
      at++;
      // A separator at the very end opens one more, empty cell.
      if (at >= source.length || source[at] === '\r' || source[at] === '\n') cells.push('');
      else continue;
    }
    if (source[at] === '\r' && source[at + 1] === '\n') at++;
    at++;
    line++;
    endRow();
  }
  if (cells.length > 0) endRow();
  return { ok: true, rows, separator: by };
}
