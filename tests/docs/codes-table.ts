/** The table of codes in DEVELOPERS.md: `npx jiti tests/docs/codes-table.ts` writes it between its two marks. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { BATCH_CODES } from '../../lib/batch/checks.ts';
import { FILE_CODES } from '../../lib/files/codes.ts';
import { SCHEMA_CODES } from '../../lib/schema/codes.ts';
import { UNIT_CODES } from '../../lib/units/codes.ts';

export const DOCUMENT = join(import.meta.dirname, '../../DEVELOPERS.md');
const BEGIN = '<!-- codes: begin -->';
const END = '<!-- codes: end -->';

const GROUPS: readonly (readonly [title: string, codes: Readonly<Record<string, string>>])[] = [
  ['figures', UNIT_CODES],
  ['keys and values', SCHEMA_CODES],
  ['files and YAML', FILE_CODES],
  ['the plan', BATCH_CODES],
];

/** Every code with its group and its meaning, as the rows of a table. */
export function codesTable(): string {
  const rows = GROUPS.flatMap(([title, codes]) =>
    Object.entries(codes).map(([code, meaning]) => `| \`${code}\` | ${title} | ${sentence(meaning)} |`),
  );
  return ['| code | about | meaning |', '| --- | --- | --- |', ...rows].join('\n');
}

function sentence(meaning: string): string {
  const text = meaning.replaceAll('|', '\\|');
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`;
}

/** What stands between the two marks of a document; null where it has no marks. */
export function tableIn(document: string): string | null {
  const begin = document.indexOf(BEGIN);
  const end = document.indexOf(END, begin);
  return begin < 0 || end < 0 ? null : document.slice(begin + BEGIN.length, end).trim();
}

if (process.argv[1]?.endsWith('codes-table.ts')) {
  const document = readFileSync(DOCUMENT, 'utf8');
  const [before = '', after = ''] = [document.split(BEGIN)[0], document.split(END)[1]];
  if (tableIn(document) === null) throw new Error(`${DOCUMENT} has no marks for the table.`);
  writeFileSync(DOCUMENT, `${before}${BEGIN}\n${codesTable()}\n${END}${after}`);
}
