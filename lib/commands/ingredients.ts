import { readArchive } from '../archive/read-archive.ts';
import { nearNames, plainName } from '../archive/schema/names.ts';
import type { Ingredient } from '../batch/types/ingredient.ts';
import { TABLES } from '../site/paths.ts';
import { formatMaltColour, formatPercent, formatTemperature } from '../units/format/format.ts';
import type { Arguments } from './support/arguments.ts';
import { counted } from './support/report.ts';
import { FINE, runCommand } from './support/run-command.ts';
import { CONTENT, type CommandSpec } from './support/spec.ts';
import { UsageError } from './support/usage-error.ts';

const SPEC: CommandSpec = {
  name: 'ingredients',
  purpose:
    'Finds ingredients by a part of their name, in the tables and in your own file, with their figures.',
  words: '<part of a name …>',
  options: [CONTENT],
  more: [
    'A name in a batch file may be any of those that are shown. Figures in the batch file go before these, and your',
    'ingredients.yaml before the tables.',
  ],
};

await runCommand(SPEC, find);

async function find(args: Arguments): Promise<number> {
  const words = args.words.flatMap((word) => word.split(/[\s-]+/)).map(plainName);
  if (words.length === 0) throw new UsageError('A part of a name is missing, such as crystal.');
  const { tables, brewery } = await readArchive(args.text('content') ?? '', { tablesDir: TABLES });
  const found = tables.rows.filter(({ name, also, kind }) =>
    [name, ...also].some((each) => words.every((word) => `${plainName(each)} ${kind}`.includes(word))),
  );
  const kinds = [...new Set(tables.rows.map(({ kind }) => kind))];
  for (const kind of kinds) {
    const rows = found.filter((row) => row.kind === kind);
    if (rows.length > 0)
      console.log(`${kind}\n${rows.map((row) => rowText(row, brewery.units)).join('\n')}\n`);
  }
  const near = found.length > 0 ? [] : nearNames(tables, args.words.join(' '), kinds);
  console.log(
    near.length > 0
      ? `Nothing has this name. Near it: ${near.join(', ')}`
      : `${counted(found.length, 'name')} found`,
  );
  return FINE;
}

function rowText(row: Ingredient, units: 'metric' | 'us'): string {
  const { colour_EBC, alpha, attenuation, temperature_C, fermentability, also } = row;
  const temperature = (t_C: number): string => formatTemperature(t_C, units);
  const band = (
    label: string,
    of: { low: number; high: number } | null,
    text: (value: number) => string,
  ): string | null =>
    of === null ? null : `${label}${text(of.low).replace(/\s*\D+$/, '')}-${text(of.high)}`;
  const figures = [
    band('alpha ', alpha, formatPercent),
    band('attenuation ', attenuation, formatPercent),
    band('', temperature_C, temperature),
    row.yield === null ? null : `yield ${formatPercent(row.yield)}`,
    colour_EBC === null ? null : formatMaltColour(colour_EBC, units),
    fermentability === null ? null : `ferments ${formatPercent(fermentability)}`,
    row.needsMash ? 'needs a mash' : null,
    row.priming_g_per_g === null ? null : 'to prime with',
    row.allergens.length === 0 ? null : `allergen: ${row.allergens.join(', ')}`,
  ].filter((figure) => figure !== null);
  const others = also.length === 0 ? '' : `\n      also: ${also.join(', ')}`;
  return `  ${row.name}${figures.length === 0 ? '' : `: ${figures.join(', ')}`}${others}`;
}
