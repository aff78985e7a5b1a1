import type { CorrectionRow, Plan } from '../batch/types/plan.ts';
import type { Units } from '../units/dimension.ts';
import { fixed } from '../units/format/format.ts';
import { massShort, temperatureText, volumeText } from '../words/measures.ts';
import type { StripsBlock } from './blocks.ts';

/** `+0.001`, `−0.002`, `0`: what to add to the hydrometer's figure. */
function changeText(add: number): string {
  if (Number(fixed(Math.abs(add), 3)) === 0) return '0';
  return `${add > 0 ? '+' : ''}${fixed(add, 3)}`;
}

function readingText({ from, to }: CorrectionRow): string {
  if (from === null && to === null) return 'any';
  if (from === null) return `${fixed(to ?? 0, 3)} or less`;
  if (to === null) return `${fixed(from, 3)} or more`;
  return from === to ? fixed(from, 3) : `${fixed(from, 3)} to ${fixed(to, 3)}`;
}

/** A hotter sample is cooled before it is read: a hydrometer's glass and scale are not made for it. */
const WARMEST_SAMPLE_C = 50;

function remedyText(row: CorrectionRow, units: Units): string {
  if (row.meaning === 'fine') return 'leave it alone';
  const ways = [
    row.add_water_l === null ? null : `add ${volumeText(row.add_water_l, units)} water`,
    row.add_extract_g === null ? null : `add ${massShort(row.add_extract_g, units)} extract`,
    row.boil_on_min === null ? null : `boil on ${Math.round(row.boil_on_min)}\u00a0min`,
  ].filter((way) => way !== null);
  return ways.length === 0 ? 'stir, read again; then leave it' : ways.join(' or ');
}

function howText(rows: readonly CorrectionRow[]): string | null {
  const extract = rows.some((row) => row.add_extract_g !== null);
  const water = rows.some((row) => row.add_water_l !== null);
  if (!extract && !water) return null;
  const what = [water ? 'water' : null, extract ? 'extract in a little water' : null];
  const named = what.filter((one) => one !== null).join(' or ');
  return `Stir and read again first. If it says the same: ${named}, boiled, cooled, stirred in.`;
}

const MEANING: { readonly [M in CorrectionRow['meaning']]: string } = {
  'far below': 'too thin',
  below: 'thin',
  fine: 'fine',
  above: 'strong',
  'far above': 'too strong',
};

function lookupRows({ sample_corrections }: Plan, units: Units): StripsBlock['lookup'] {
  const rows = sample_corrections
    .filter(({ temperature_c }) => temperature_c <= WARMEST_SAMPLE_C)
    .map(({ temperature_c, add }) => ({
      temperature: temperatureText(temperature_c, units),
      change: changeText(add),
    }));
  return rows.length === 0 ? [] : [...rows, { temperature: 'hotter', change: 'cool it' }];
}

/** The two strips beside the original gravity; null where the plan has neither. */
export function stripsBlock(plan: Plan, units: Units): StripsBlock | null {
  if (plan.sample_corrections.length === 0 && plan.corrections.length === 0) return null;
  return {
    kind: 'strips',
    lookup: lookupRows(plan, units),
    corrections: plan.corrections.map((row) => ({
      reading: readingText(row),
      meaning: MEANING[row.meaning],
      remedy: remedyText(row, units),
      fine: row.meaning === 'fine',
    })),
    how: howText(plan.corrections),
  };
}
