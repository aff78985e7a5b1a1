/** Rows of a table on one page: a page with them stays well under 100 kB. */
const ROWS_A_PAGE = 100;

/** How many pages so many rows take; one at least. */
export const pageCount = (rows: number, size = ROWS_A_PAGE): number => Math.max(1, Math.ceil(rows / size));

/** The rows of a page, from 1. */
export const rowsOfPage = <R>(rows: readonly R[], page: number, size = ROWS_A_PAGE): readonly R[] =>
  rows.slice((page - 1) * size, page * size);

/** Numbers of the pages after the first. */
export const laterPages = (rows: number, size = ROWS_A_PAGE): readonly number[] =>
  Array.from({ length: pageCount(rows, size) - 1 }, (_, i) => i + 2);

/** A way to another page of the same table. */
export interface PageLink {
  readonly number: number;
  readonly href: string;
  readonly here: boolean;
}

/** Links to all pages of a table; empty where there is one only. */
export function pageLinks(
  rows: number,
  here: number,
  hrefOf: (page: number) => string,
  size = ROWS_A_PAGE,
): readonly PageLink[] {
  const count = pageCount(rows, size);
  if (count === 1) return [];
  return Array.from({ length: count }, (_, i) => ({
    number: i + 1,
    href: hrefOf(i + 1),
    here: i + 1 === here,
  }));
}
