/** Tables in the documents that are made from the code: `npm run docs` renews them, a test holds them. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { accuracyHeadlines, accuracyMarkdown } from '../../formulas/accuracy.ts';

export interface DocumentTable {
  readonly document: string;
  readonly mark: string;
  readonly make: () => string;
}

export const TABLES: readonly DocumentTable[] = [
  { document: 'README.md', mark: 'accuracy', make: () => accuracyMarkdown(accuracyHeadlines()).trim() },
];

const pathOf = (document: string) => join(import.meta.dirname, '../../..', document);
const begin = (mark: string) => `<!-- ${mark}: begin -->`;
const end = (mark: string) => `<!-- ${mark}: end -->`;

/** What stands between the two marks; throws where the document has lost them. */
export function tableIn({ document, mark }: DocumentTable): string {
  const text = readFileSync(pathOf(document), 'utf8');
  const from = text.indexOf(begin(mark));
  const to = text.indexOf(end(mark), from);
  if (from < 0 || to < 0) throw new Error(`${document} has no marks for the table "${mark}".`);
  return text.slice(from + begin(mark).length, to).trim();
}

function renew(table: DocumentTable): void {
  const old = tableIn(table);
  const text = readFileSync(pathOf(table.document), 'utf8');
  const { mark } = table;
  const from = text.indexOf(begin(mark));
  const to = text.indexOf(end(mark), from);
  const made = table.make();
  writeFileSync(pathOf(table.document), `${text.slice(0, from)}${begin(mark)}\n${made}\n${text.slice(to)}`);
  console.log(`${table.document}: ${mark} ${made === old ? 'unchanged' : 'renewed'}`);
}

if (process.argv[1]?.endsWith('tables.ts')) TABLES.forEach(renew);
