import { inRange } from '../../formulas/range.ts';
import type { Problem } from '../../units/problem.ts';
import { fermentationCurve } from '../fermentation/curve.ts';
import { judgeEnd, oneEach } from '../judgment/judge.ts';
import { judgeDay } from '../judgment/judge-day.ts';
import { endingOf, expectedEnd, finishOf, withFinal } from '../judgment/judge-fermentation.ts';
import { explain } from '../judgment/likely-cause.ts';
import { NO_WARMER, verdict, verdictAtMost } from '../judgment/verdicts.ts';
import type { Detail } from '../model/model.ts';
import type { Case } from '../model/model-input.ts';
import { type Outcome, TARGET_INDEX as T } from '../model/target-vector.ts';
import { asBrewed, brewedTo, byWeight } from '../readings/as-brewed.ts';
import { boiledCase } from '../readings/boil-clock.ts';
import { logRows } from '../readings/log-rows.ts';
import { type Observation, observations, readingPath } from '../readings/normalise-readings.ts';
import type { Batch } from '../types/batch.ts';
import type { Judgment } from '../types/judgment.ts';
import { placeOf } from '../types/places.ts';
import type { Fermentation, Figure, Plan, ReadingVerdict, Targets, VerdictWord } from '../types/plan.ts';
import { BatchFindings } from '../types/problem.ts';
import { type Input, uncertainInputs } from '../uncertainty/inputs.ts';
import { type Propagation, propagate } from '../uncertainty/propagate.ts';

/** The part of a plan that comes from readings, and what was found in them. */
export interface ReadBack {
  readonly found: readonly Problem[];
  readonly plan: Pick<
    Plan,
    'readings' | 'judgments' | 'bottles' | 'as_brewed' | 'finish' | 'fermentation' | 'fermentation_curve'
  >;
}

/** What was planned, and the day on which it is looked at; null: no day. */
export interface Planned {
  readonly batch: Batch;
  readonly c: Case;
  readonly outcome: Outcome;
  readonly detail: Detail;
  readonly inputs: readonly Input[];
  readonly propagation: Propagation;
  readonly targets: Targets;
  readonly today: string | null;
}

/** What a plan says of the end before anything is read. */
export function finishAsPlanned({ batch, outcome, propagation, inputs }: Planned): Plan['finish'] {
  const original_SG = outcome[T.original_gravity]!;
  const final_SG = outcome[T.final_gravity]!;
  return finishOf(batch, expectedEnd({ original_SG, final_SG, propagation, inputs, readings: [] }));
}

/** What a batch's readings mean, held against what was planned. */
export function readBack(planned: Planned): ReadBack {
  const { batch, outcome, detail, inputs, propagation, targets, today } = planned;
  const read = observations(batch, outcome, detail);
  const causes = explain(read, propagation, inputs, batch.recipe.intoFermenter_L.value);
  const boiled = boiledWith(planned);
  const day = judgeDay({ ...boiled, batch, targets, readings: read, planned: detail });
  const sound = byWeight(read, day.doubted);
  // Readings that no beer has leave the batch without its own figures, not without its plan.
  const brewed = inRange(() => asBrewed(boiled.batch, boiled.c, sound));
  const log = logRows(batch, sound);
  const ends = inRange(() => brewedTo(boiled.c, sound)) ?? brewedTo(boiled.c, []);
  const expected = expectedEnd({ ...boiled, ...ends, readings: sound });
  const ending = endingOf(withFinal(batch, log, sound), expected, today);
  const { ambient_kPa } = detail;
  const end = judgeEnd({ batch, ambient_kPa, targets, asBrewed: brewed, readings: sound, ending });
  const curve = inRange(() => fermentationCurve(batch, log, sound, targets));
  const judgments = oneEach(
    read.map(({ key }) => key),
    [...day.judgments, ...end.judgments],
  );
  return {
    found: faultyReadings(read),
    plan: {
      readings: verdicts(read, causes, targets, judgments, day.doubted),
      judgments,
      bottles: end.bottles,
      as_brewed: brewed,
      finish: finishOf(batch, expected),
      fermentation: stateOf(batch, ending),
      ...(curve === null ? {} : { fermentation_curve: curve }),
    },
  };
}

/** The case as it was boiled, with the inputs that belong to it; the planned one where nothing differs. */
function boiledWith({ batch, c, detail, inputs, propagation }: Planned) {
  const { batch: boiled, c: own } = boiledCase(batch, c, detail);
  if (own === c) return { batch, c, inputs, propagation };
  const uncertain = uncertainInputs(boiled, own);
  return { batch: boiled, c: own, inputs: uncertain, propagation: propagate(own, uncertain) };
}

function stateOf(batch: Batch, ending: ReturnType<typeof endingOf>): Fermentation | null {
  const { fermentation, abandoned, packaged } = batch.readings;
  if (fermentation === undefined) return null;
  if (abandoned) return { state: 'given up', next: null, as_of: null };
  if (ending === null) return null;
  const next = packaged && packaged !== 'not taken' ? null : ending.next;
  return { state: ending.state, next, as_of: next !== null && ending.putOff ? next : null };
}

function verdicts(
  read: readonly Observation[],
  causes: ReadonlyMap<string, string>,
  targets: Targets,
  judgments: readonly Judgment[],
  doubted: ReadonlySet<string>,
): Record<string, ReadingVerdict> {
  const out: Record<string, ReadingVerdict> = {};
  const mixed = judgments.find(({ cause }) => cause?.code === 'mix');
  const measured = read.some(({ key, value }) => {
    const place = placeOf(key);
    return place?.of === 'packaged' && place.part === 'volume' && value !== null;
  });
  // Where wort and water were both read, they are judged by what they make together.
  const mixes = read.some((one) => one.key === 'chilled.temperature' && one.value !== null);
  read.forEach(({ key, value, target, fault }, i) => {
    const aim = target ? targets[target] : null;
    const left = judgments[i]?.cause?.code === 'left out';
    const judged =
      value === null
        ? 'not_taken'
        : aim && wordFor(key, value, aim, { mixed, mixes, measured, said: judgments[i]! });
    const word = fault || left ? null : judged;
    const off = word === 'a_little_off' || word === 'off';
    const likeliest_cause = off ? (causes.get(key) ?? null) : null;
    out[key] = {
      value,
      verdict: word,
      target,
      likeliest_cause,
      ...(doubted.has(key) ? { doubted: true } : {}),
    };
  });
  return out;
}

/** What counts of wort and top-up water is what they make together. */
function wordFor(
  key: string,
  value: number,
  aim: Figure,
  known: {
    readonly mixed: Judgment | undefined;
    readonly mixes: boolean;
    /** Whether the beer was read that the bottles are counted against. */
    readonly measured: boolean;
    readonly said: Judgment;
  },
): VerdictWord | null {
  const { mixed, mixes } = known;
  if (placeOf(key)?.part === 'bottles') {
    if (!known.measured) return null;
    return known.said.cause?.code === 'bottle count' ? 'off' : 'fine';
  }
  if (mixed?.key === key) return mixed.level === 'act' ? 'off' : 'a_little_off';
  if (!NO_WARMER.has(key)) return verdict(value, aim.printed);
  return mixes ? 'fine' : verdictAtMost(value, aim);
}

function faultyReadings(read: readonly Observation[]): readonly Problem[] {
  const found = new BatchFindings();
  for (const { key, fault } of read)
    if (fault) found.warn('reading-out-of-range', readingPath(key), { found: fault });
  return found.problems;
}
