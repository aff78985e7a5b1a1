/** One column of a table that leaves the archive. */
export type Cell = string | number | null;

export interface Column<Row> {
  readonly name: string;
  readonly type: 'text' | 'number' | 'integer' | 'date' | 'date-time';
  /** Symbol of the unit; empty for texts, counts, gravities and scores. */
  readonly unit: string;
  readonly meaning: string;
  readonly of: (row: Row) => Cell;
}

/** A table: its file, what a row is, and its columns in order. */
export interface Table<Row = never> {
  readonly name: string;
  readonly title: string;
  readonly row: string;
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
}

/** A table as whoever writes it out sees it: names, units, and cells by row. */
export interface WrittenTable {
  readonly name: string;
  readonly title: string;
  readonly row: string;
  readonly columns: readonly Omit<Column<never>, 'of'>[];
  readonly cells: readonly (readonly Cell[])[];
}

export const written = <Row>({ name, title, row, columns, rows }: Table<Row>): WrittenTable => ({
  name,
  title,
  row,
  columns: columns.map(({ of: _, ...column }) => column),
  cells: rows.map((one) => columns.map(({ of }) => tidy(of(one)))),
});

/**
 * Numbers to a thousandth of themselves, gravities to a tenth of a point: nothing here is known better, and a spreadsheet shows
 * every digit that it is given. All digits stand in plan.json.
 */
function tidy(cell: Cell): Cell {
  if (typeof cell !== 'number' || Number.isInteger(cell)) return cell;
  if (!Number.isFinite(cell)) return null;
  return Number(cell.toPrecision(cell >= 1 && cell < 2 ? 5 : 4));
}
