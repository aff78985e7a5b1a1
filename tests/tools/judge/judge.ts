/** `npm run judge`: what is said of simulated batches, good and bad, beside what may be said of them. */
import { progressOn } from '../../../lib/commands/support/progress.ts';
import { FAILED, FINE, runCommand } from '../../../lib/commands/support/run-command.ts';
import type { CommandSpec } from '../../../lib/commands/support/spec.ts';
import { UsageError } from '../../../lib/commands/support/usage-error.ts';
import { isMet, type Row, rowsOf, type Tally } from './goals.ts';
import { measure, SCENARIOS } from './measure.ts';

const SPEC: CommandSpec = {
  name: 'judge',
  purpose:
    'Judges simulated batches of careful and of careless brewers, and tells how often they see a mark.',
  words: null,
  options: [
    { name: 'draws', value: 'N', fallback: '400', help: 'batches of each kind' },
    { name: 'seed', value: 'S', fallback: '1', help: 'the same seed gives the same batches' },
    {
      name: 'only',
      value: 'NAME',
      many: true,
      help: `a slug, or one of: ${SCENARIOS.join(', ')}; may be given more than once`,
    },
    { name: 'recipes', value: null, help: 'the figures of each recipe too' },
  ],
};

const numberOf = (text: string | undefined, option: string): number => {
  const value = Number(text);
  if (Number.isInteger(value) && value > 0) return value;
  throw new UsageError(`--${option} takes a whole number above 0, not ${JSON.stringify(text)}.`);
};

await runCommand(SPEC, async (args) => {
  const progress = progressOn();
  const draws = numberOf(args.text('draws'), 'draws');
  const seed = numberOf(args.text('seed'), 'seed');
  const onDraw = (done: number) => progress.say(`${done} of ${draws}`);
  const { tally, recipes } = await measure({ draws, seed, only: args.all('only'), onDraw });
  progress.end();
  const { careful, ranges, bad } = rowsOf(tally);
  console.log(`${draws} draws, seed ${seed}, ${recipes.length} recipes\n`);
  if (careful.length > 0) {
    print('careful brewer, good batch', careful);
    console.log(rest(tally));
    print('a 95 % range holds', ranges);
  }
  if (bad.length > 0) print('bad batch', bad);
  if (args.flag('recipes')) console.log(byRecipe(tally, recipes));
  return [...careful, ...ranges, ...bad].every(isMet) ? FINE : FAILED;
});

function percent(share: number): string {
  return Number.isNaN(share) ? '-' : `${(100 * share).toFixed(1)} %`;
}

function wishOf({ least, most }: Row): string {
  if (least > 0 && most < 1) return `${percent(least)} to ${percent(most)}`;
  return least > 0 ? `at least ${percent(least)}` : `at most ${percent(most)}`;
}

function print(title: string, rows: readonly Row[]): void {
  const lines = rows.map((row) => [
    row.what,
    percent(row.share),
    wishOf(row),
    isMet(row) ? '' : 'MISSED',
    ...(row.z ? [row.z.mean, row.z.deviation].map((z) => z.toFixed(2)) : []),
  ]);
  const more = rows[0]?.z ? ['mean, in u', 'deviation, in u'] : [];
  console.log(table([[title, 'is', 'is to be', '', ...more], ...lines]));
}

function table(lines: readonly (readonly string[])[]): string {
  const widths = lines[0]!.map((_, i) => Math.max(...lines.map((line) => line[i]!.length)));
  const text = lines.map((line) => `| ${line.map((cell, i) => cell.padEnd(widths[i]!)).join(' | ')} |`);
  return [text[0], `|${widths.map((width) => '-'.repeat(width + 2)).join('|')}|`, ...text.slice(1), ''].join(
    '\n',
  );
}

/** What the marks were for, and what is true of the gas. */
function rest(tally: Tally): string {
  const batches = tally.number('act');
  const causes = [...tally.causes].sort((a, b) => b[1] - a[1]);
  return [
    'Marks seen of good batches, by a hundred of them:',
    ...causes.map(([what, count]) => `  ${((100 * count) / batches).toFixed(1).padStart(6)}  ${what}`),
    `Called finished where it is first called finished or nearly: ${percent(tally.share('first called finished'))}`,
    `True gas no more than what is told as the most: ${percent(tally.share('true gas at most'))}`,
    `Calm, and yet more gas than the bottles are made for: ${percent(tally.share('calm, yet over the limit'))}`,
    '',
  ].join('\n');
}

function byRecipe(tally: Tally, recipes: readonly string[]): string {
  const rows = tally
    .rows('')
    .map((row) => [row, ...recipes.map((recipe) => percent(tally.share(row, recipe)))]);
  return table([['by recipe', ...recipes], ...rows]);
}
