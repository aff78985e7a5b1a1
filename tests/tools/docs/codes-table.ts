/** The table of codes in DEVELOPERS.md, which `npm run docs` writes between its two marks. */

import { FILE_CODES } from '../../../lib/archive/codes.ts';
import { SCHEMA_CODES } from '../../../lib/archive/schema/codes.ts';
import { BATCH_CODES } from '../../../lib/batch/plan/checks.ts';
import { KEY_IN_CODES } from '../../../lib/key-in/check.ts';
import { SHEET_CODES } from '../../../lib/paper/engine/faults.ts';
import { UNIT_CODES } from '../../../lib/units/codes.ts';

const GROUPS: readonly (readonly [title: string, codes: Readonly<Record<string, string>>])[] = [
  ['figures', UNIT_CODES],
  ['keys and values', SCHEMA_CODES],
  ['files and YAML', FILE_CODES],
  ['the plan', BATCH_CODES],
  ['keying in', KEY_IN_CODES],
  ['printing', SHEET_CODES],
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
