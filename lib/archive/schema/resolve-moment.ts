import type { RecipeMoment } from '../../batch/types/recipe.ts';
import { minute } from '../../units/brands.ts';
import type { Given } from '../../units/parse/given.ts';
import type { AddWord } from './moments.ts';
import type { Report } from './report.ts';

/** What an item says of its time; `day` and `for` only count for what goes in after pitching. */
export interface Timing {
  readonly add?: AddWord | null | undefined;
  readonly day?: number | null | undefined;
  readonly for?: Given<number> | null | undefined;
}

/** What additions depend on. `has` says whether the file has the key at all, sound or not. */
export interface Occasion {
  readonly boil: Given<number>;
  readonly has: (key: 'stand' | 'steep' | 'mash') => boolean;
}

/** When an item goes in; the start of the boil where it does not say. Reports what does not fit the recipe. */
export function resolveMoment(timing: Timing, { boil, has }: Occasion, report: Report): RecipeMoment {
  const add = timing.add ?? { at: 'boil', minutesLeft: minute(boil.value), written: boil.written };
  checkBeside(timing, add, report);
  switch (add.at) {
    case 'boil':
      if (add.minutesLeft > boil.value)
        report.error('addition-after-boil', ['add'], { written: add.written, boil: boil.written });
      return add;
    case 'stand':
    case 'steep':
      if (!has(add.at)) needsStep(report, 'add', add.at, ', or choose another time');
      return { at: add.at };
    case 'dry': {
      const { for: time } = timing;
      const stay = { for_min: time ? minute(time.value) : null, forWritten: time?.written ?? null };
      return { at: 'dry', day: day(timing, report), ...stay };
    }
    case 'fermenter':
      return { at: 'fermenter', day: day(timing, report) };
    default:
      return { at: add.at };
  }
}

const STEP_SAMPLES = {
  stand: { temperature: 80, time: 20 },
  steep: { temperature: 67, time: 20 },
  mash: { temperature: 67, time: 60, ratio: 3 },
} as const;

/** Says that the recipe lacks a step that something goes into. */
export function needsStep(report: Report, key: string, step: keyof typeof STEP_SAMPLES, or: string): void {
  const keys = Object.entries(STEP_SAMPLES[step]) as ['temperature' | 'time' | 'ratio', number][];
  const sample = keys.map(([name, value]) => `${name}: ${report.text(value, name)}`).join(', ');
  const ratio = step === 'mash' ? ' and ratio' : '';
  report.error(`${step}-missing`, [key], { step, ratio, sample: `{ ${sample} }`, or });
}

function day(timing: Timing, report: Report): number {
  if (timing.day !== null && timing.day !== undefined) return timing.day;
  report.error('day-missing', ['day']);
  return 0;
}

function checkBeside(timing: Timing, { at }: AddWord, report: Report): void {
  const wanted = { day: at === 'dry' || at === 'fermenter', for: at === 'dry' };
  for (const key of ['day', 'for'] as const) {
    if (wanted[key] || timing[key] === null || timing[key] === undefined) continue;
    report.error('key-not-wanted', [key], {
      key,
      when: at === 'boil' ? 'in the boil' : `at ${at}`,
      wanted: key === 'for' ? 'add: dry' : 'add: dry or add: fermenter',
    });
  }
}
