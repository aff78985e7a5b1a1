import type { RecipeMoment } from '../../batch/types/recipe.ts';
import { minute } from '../../units/brands.ts';
import type { Given } from '../../units/parse/given.ts';
import type { KeyPath } from '../../units/problem.ts';
import type { AddWord } from './moments.ts';
import type { Report } from './report.ts';

/** What an item says of its time; `day` and `for` only count for what goes in after pitching. */
export interface Timing {
  readonly add?: AddWord | null | undefined;
  readonly day?: number | null | undefined;
  readonly for?: Given<number> | null | undefined;
}

/** What additions may lean on. `has` says whether the file has the key at all, sound or not. */
export interface Occasion {
  readonly boil: Given<number>;
  readonly has: (key: 'stand' | 'steep' | 'mash') => boolean;
}

/** When an item goes in; the start of the boil where it does not say. Reports what does not fit the recipe. */
export function resolveMoment(
  timing: Timing,
  occasion: Occasion,
  path: KeyPath,
  report: Report,
): RecipeMoment {
  const { boil } = occasion;
  const start: AddWord = { at: 'boil', minutesLeft: minute(boil.value), written: boil.written };
  const add = timing.add ?? start;
  checkBeside(timing, add, path, report);
  switch (add.at) {
    case 'boil':
      if (add.minutesLeft > boil.value) {
        report.error(
          'addition-after-boil',
          [...path, 'add'],
          `"${add.written}", longer than the ${boil.written} boil`,
          `a time from 0 min to ${boil.written}, flameout, stand, dry or first wort`,
          'shorten the addition or lengthen the boil',
        );
      }
      return add;
    case 'stand':
    case 'steep':
      if (!occasion.has(add.at)) needsStep(report, [...path, 'add'], add.at, ', or choose another time');
      return { at: add.at };
    case 'dry':
      return {
        at: 'dry',
        day: day(timing, path, report),
        for_min: timing.for ? minute(timing.for.value) : null,
        forWritten: timing.for?.written ?? null,
      };
    case 'fermenter':
      return { at: 'fermenter', day: day(timing, path, report) };
    default:
      return { at: add.at };
  }
}

const STEP_SAMPLES = {
  stand: 'temperature: 80 °C, time: 20 min',
  steep: 'temperature: 67 °C, time: 20 min',
  mash: 'temperature: 67 °C, time: 60 min, ratio: 3 L/kg',
} as const;

/** Says that the recipe lacks a step that something goes into. */
export function needsStep(report: Report, path: KeyPath, step: keyof typeof STEP_SAMPLES, or: string): void {
  report.error(
    `${step}-missing`,
    path,
    `"${step}" where the recipe has no ${step}`,
    `${step}: below recipe, with its temperature and time${step === 'mash' ? ' and ratio' : ''}`,
    report.example(`add ${step}: { ${STEP_SAMPLES[step]} } to the recipe${or}`),
  );
}

function day(timing: Timing, path: KeyPath, report: Report): number {
  if (timing.day !== null && timing.day !== undefined) return timing.day;
  const expected = 'the number of days after pitching';
  report.error('day-missing', [...path, 'day'], 'nothing', expected, 'add for example day: 7');
  return 0;
}

function checkBeside(timing: Timing, add: AddWord, path: KeyPath, report: Report): void {
  const wanted = { day: add.at === 'dry' || add.at === 'fermenter', for: add.at === 'dry' };
  for (const key of ['day', 'for'] as const) {
    if (wanted[key] || timing[key] === null || timing[key] === undefined) continue;
    const when = add.at === 'boil' ? 'in the boil' : `at ${add.at}`;
    const found = `${key}: beside an addition that is made ${when}`;
    const expected = key === 'for' ? 'for: only with add: dry' : 'day: only with add: dry or add: fermenter';
    report.error('key-not-wanted', [...path, key], found, expected, `remove ${key}:, or change add:`);
  }
}
