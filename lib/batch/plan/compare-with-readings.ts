import type { Problem } from '../../units/problem.ts';
import { fermentationCurve } from '../fermentation/curve.ts';
import { adviceOn } from '../judgment/advice.ts';
import { checkReadBottles } from '../judgment/bottle-safety.ts';
import { fermentationState } from '../judgment/finished.ts';
import { explain } from '../judgment/likely-cause.ts';
import { NO_WARMER, verdict, verdictAtMost } from '../judgment/verdicts.ts';
import type { Detail } from '../model/model.ts';
import type { Case } from '../model/model-input.ts';
import type { Outcome } from '../model/target-vector.ts';
import { asBrewed } from '../readings/as-brewed.ts';
import { logRows } from '../readings/log-rows.ts';
import { type Observation, observations, readingPath } from '../readings/normalise-readings.ts';
import type { Batch } from '../types/batch.ts';
import type { Brewery } from '../types/brewery.ts';
import type { Figure, Plan, ReadingVerdict, Targets } from '../types/plan.ts';
import { problem } from '../types/problem.ts';
import type { TargetKey } from '../types/targets.ts';
import type { Input } from '../uncertainty/inputs.ts';
import { isWhole } from '../uncertainty/printed.ts';
import type { Propagation } from '../uncertainty/propagate.ts';

/** The part of a plan that comes from readings, and what was found in them. */
export interface ReadBack {
  readonly found: readonly Problem[];
  readonly plan: Pick<Plan, 'readings' | 'as_brewed' | 'fermentation' | 'fermentation_curve'>;
}

/** What a batch's readings mean, held against what was planned. */
export function readBack(planned: {
  readonly batch: Batch;
  readonly brewery: Brewery;
  readonly c: Case;
  readonly outcome: Outcome;
  readonly detail: Detail;
  readonly inputs: readonly Input[];
  readonly propagation: Propagation;
  readonly targets: Targets;
}): ReadBack {
  const { batch, brewery, c, outcome, detail, inputs, propagation, targets } = planned;
  const read = observations(batch, outcome);
  const causes = explain(read, propagation, inputs, batch.recipe.intoFermenter_L.value);
  const brewed = withoutFaults(() => asBrewed(batch, c, read));
  const log = logRows(batch, read);
  const fermentation = fermentationState(batch, log, targets.final_gravity);
  const curve = withoutFaults(() => fermentationCurve(batch, log, read, targets));
  const known = { batch, brewery, c, targets, asBrewed: brewed, readings: read };
  const { packed, ambient_kPa } = detail;
  return {
    found: [...faultyReadings(read), ...checkReadBottles({ ...known, fermentation, packed, ambient_kPa })],
    plan: {
      readings: verdicts(read, causes, known),
      as_brewed: brewed,
      fermentation,
      ...(curve === null ? {} : { fermentation_curve: curve }),
    },
  };
}

/** Each reading with its verdict, the likeliest cause and what to do. */
function verdicts(
  read: ReturnType<typeof observations>,
  causes: ReadonlyMap<string, string>,
  known: Parameters<typeof adviceOn>[2],
): Record<string, ReadingVerdict> {
  const out: Record<string, ReadingVerdict> = {};
  for (const reading of read) {
    const { key, value, target, fault } = reading;
    const aim = target ? known.targets[target] : null;
    const judged = (of: number, by: Figure) =>
      NO_WARMER.has(key) ? verdictAtMost(of, by) : verdict(of, countedOrPrinted(by, target));
    const word = fault ? null : value === null ? 'not_taken' : aim ? judged(value, aim) : null;
    const off = word === 'a_little_off' || word === 'off';
    const likeliest_cause = off ? (causes.get(key) ?? null) : null;
    out[key] = { value, verdict: word, target, likeliest_cause, advice: adviceOn(reading, word, known) };
  }
  return out;
}

/** Readings that no beer has leave the batch without its own figures, not without its plan. */
function withoutFaults<R>(compute: () => R): R | null {
  try {
    return compute();
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

function faultyReadings(read: readonly Observation[]): Problem[] {
  return read.flatMap(({ key, fault }) =>
    fault
      ? [
          problem(
            'warning',
            'reading-out-of-range',
            readingPath(key),
            fault,
            'a figure that the instrument can show',
            'check the figure and its temperature, or write not taken',
          ),
        ]
      : [],
  );
}

/** A count has no range of its own: one more or less is still what was planned. */
const countedOrPrinted = (by: Figure, target: TargetKey | null): Figure['printed'] =>
  target !== null && isWhole(target) ? { low: by.value - 1, high: by.value + 1 } : by.printed;
