import { ofEntry, type SiteEntry } from '../site.ts';
import { type Cell, csvLines } from './csv.ts';

/** One column of a table that leaves the archive. */
export interface Column<Row> {
  readonly name: string;
  readonly type: 'text' | 'number' | 'integer' | 'date' | 'date-time';
  /** Symbol of the unit; empty for texts, counts, gravities and scores. */
  readonly unit: string;
  readonly meaning: string;
  readonly of: (row: Row) => Cell;
}

type Of<Row> = (row: Row) => Cell;
const column =
  (type: Column<never>['type']) =>
  <Row>(name: string, unit: string, meaning: string, of: Of<Row>): Column<Row> => ({
    name,
    type,
    unit,
    meaning,
    of,
  });
export const number = column('number');
export const integer = column('integer');
export const text = <Row>(name: string, meaning: string, of: Of<Row>): Column<Row> =>
  column('text')(name, '', meaning, of);
export const day = <Row>(name: string, meaning: string, of: Of<Row>): Column<Row> =>
  column('date')(name, '', meaning, of);

/** A table: its file, what a row is, its columns in order, and the rows that a batch gives. */
export interface Table<Row> {
  readonly name: string;
  readonly title: string;
  readonly row: string;
  readonly columns: readonly Column<Row>[];
  readonly rows: (entry: SiteEntry) => readonly Row[];
}

/** The rows of one batch, ready to be put one after the other. */
interface WrittenRows {
  readonly count: number;
  readonly csv: string;
  /** Objects, with commas between them. */
  readonly json: string;
}

/** A table as its writer sees it. */
export interface WrittenTable extends Omit<Table<never>, 'columns' | 'rows'> {
  readonly columns: readonly Omit<Column<never>, 'of'>[];
  readonly rows: (entry: SiteEntry) => WrittenRows;
}

/** A table whose rows are written once a batch. */
export const written = <Row>({ columns, rows, ...about }: Table<Row>): WrittenTable => ({
  ...about,
  columns: columns.map(({ of: _, ...column }) => column),
  rows: (entry) => ofEntry(entry, about.name, () => rowsWritten(rows(entry), columns), true),
});

function rowsWritten<Row>(rows: readonly Row[], columns: Table<Row>['columns']): WrittenRows {
  const cells = rows.map((one) => columns.map(({ of }) => short(of(one))));
  const objects = cells.map((line) => Object.fromEntries(columns.map(({ name }, i) => [name, line[i]])));
  const json = objects.map((row) => JSON.stringify(row)).join(',');
  return { count: cells.length, csv: csvLines(cells), json };
}

/**
 * Numbers to a thousandth of themselves, gravities to a tenth of a point: nothing here is known better, and a spreadsheet shows
 * every digit that it is given. All digits stand in plan.json.
 */
function short(cell: Cell): Cell {
  // Half a sign is no text: every file has the same in its place.
  if (typeof cell === 'string') return cell.replace(/\p{Surrogate}/gu, '\ufffd');
  if (typeof cell !== 'number' || Number.isInteger(cell)) return cell;
  if (!Number.isFinite(cell)) return null;
  return Number(cell.toPrecision(cell >= 1 && cell < 2 ? 5 : 4));
}

/** Numbers to ten significant digits: binary dust is no information, and differs between versions of Node. */
export const tidy = <V>(value: V): V | number | null =>
  typeof value !== 'number' || Number.isSafeInteger(value)
    ? value
    : Number.isFinite(value)
      ? Number(value.toPrecision(10))
      : null;
