/** Batch files with very much of one thing, as nobody writes them: what still has to be read, planned and shown in time. */
import { copyFileSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { ROOT } from '../../../lib/site/paths.ts';

const TABLES = ['brewery.yaml', 'setups.yaml', 'ingredients.yaml'];

const head = ['---', 'title: Very much', 'setup: stove', 'brewed: 2026-02-14', 'recipe:'];
const basis = [
  '  into_fermenter: 10 L',
  '  boil: 60 min',
  '  extract:',
  '    - { name: light dry extract, weight: 1.2 kg }',
  '  yeast:',
  '    - { name: English ale, form: dry, amount: 11 g }',
];

export function additions(count: number): string {
  const hops = Array.from(
    { length: count },
    (_, at) => `    - { name: Fuggle, weight: 0.5 g, alpha: 4.6 %, add: ${at % 61} min }`,
  );
  return [...head, ...basis, '  hops:', ...hops, '---', ''].join('\n');
}

export function readings(count: number): string {
  const log = Array.from({ length: count }, (_, at) => {
    const on = new Date(Date.UTC(2026, 1, 15) + at * 3_600_000).toISOString().slice(0, 16).replace('T', ' ');
    const gravity = 1.01 + 0.03 * Math.exp(-at / (count / 4));
    return `    - { on: ${on}, gravity: ${gravity.toFixed(4)}, temperature: 19 °C }`;
  });
  return [
    ...head,
    ...basis,
    'readings:',
    '  original_gravity: 1.040',
    '  fermentation:',
    ...log,
    '---',
    '',
  ].join('\n');
}

export const notes = (kind: 'words' | 'brackets') => (kilobytes: number) => {
  const unit =
    kind === 'words' ? 'More **roast** next time, and [less](https://example.org) water.\n\n' : '![[';
  return [...head, ...basis, '---', unit.repeat(Math.floor((kilobytes * 1000) / unit.length)), ''].join('\n');
};

/** A content folder with one batch of such a text; the kit is the demo's. */
export function contentOf(content: string, text: string): void {
  mkdirSync(join(content, 'batches'), { recursive: true });
  for (const table of TABLES) copyFileSync(join(ROOT, 'content', table), join(content, table));
  writeFileSync(join(content, 'batches/much.md'), text);
}
