import { beerSwatch } from '../formulas/swatch.ts';
import { type Problem, pathText } from '../units/problem.ts';
import { adviceOn } from './advice.ts';
import { asBrewed } from './as-brewed.ts';
import { assumedFigures } from './assumed.ts';
import type { Batch } from './batch.ts';
import { checkReadBottles } from './bottle-safety.ts';
import type { Brewery } from './brewery.ts';
import { buildCase, packCells } from './build-case.ts';
import type { Case } from './case.ts';
import { checkBottles, checkDesign, checkOutcome, checkRecipe } from './checks.ts';
import { designBoil } from './design.ts';
import { explain } from './explain.ts';
import { fermentationCurve } from './ferment-curve.ts';
import { allFigures } from './figures.ts';
import { fermentationState } from './finished.ts';
import { uncertainInputs } from './inputs.ts';
import { logRows } from './log-rows.ts';
import { type Detail, runModel } from './model.ts';
import { type Outcome, TARGET_INDEX as T } from './outcome.ts';
import type { BitternessRow, KettleRow, Plan, PlanResult, ReadingVerdict, Targets } from './plan.ts';
import { TARGET_KEYS } from './plan.ts';
import { problem } from './problem.ts';
import { propagate } from './propagate.ts';
import { type Observation, observations, readingPath } from './reduce.ts';
import { revisionOf } from './revision.ts';
import { correctionRows, primingTable, sampleCorrections } from './tables.ts';
import { timetable } from './timetable.ts';
import { verdict } from './verdicts.ts';

/** The glass that the swatch is poured into, cm. */
const GLASS_CM = 5;

/**
 * Everything that is computed for a batch, once: targets with their ranges, timetable, tables, verdicts, warnings.
 *
 * Pure. A recipe that physics forbids gives problems by key path and no plan; doubts are warnings of the plan.
 * Never throws for a brewer's mistake: a figure that leaves the range of its formula is a problem too.
 */
export function planBatch(batch: Batch, brewery: Brewery): PlanResult {
  return planWith(batch, brewery, fermentationCurve);
}

/** The same for a recipe that nobody has brewed yet: without a log there is no curve to fit, and a page need not carry it. */
export function planUnread(batch: Batch, brewery: Brewery): PlanResult {
  return planWith(batch, brewery, () => null);
}

function planWith(batch: Batch, brewery: Brewery, curveOf: typeof fermentationCurve): PlanResult {
  try {
    return computePlan(batch, brewery, curveOf);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    const problem: Problem = {
      severity: 'error',
      code: 'figure-out-of-range',
      path: ['recipe'],
      found: error.message,
      expected: 'figures that a kitchen can reach',
      mend: 'check the weights, volumes, temperatures and times of the recipe',
    };
    return { ok: false, problems: [problem] };
  }
}

function computePlan(batch: Batch, brewery: Brewery, curveOf: typeof fermentationCurve): PlanResult {
  const c = buildCase(batch);
  const found = checkRecipe(batch, brewery, c);
  if (hasErrors(found)) return { ok: false, problems: found };
  designBoil(c);
  found.push(...checkDesign(batch, brewery, c));
  if (hasErrors(found)) return { ok: false, problems: found };
  const { outcome, detail } = runModel(c);
  found.push(...checkOutcome(batch, brewery, c, outcome, detail));
  if (hasErrors(found)) return { ok: false, problems: found };

  const inputs = uncertainInputs(batch, c);
  const propagation = propagate(c, inputs);
  const targets = allFigures(propagation, inputs, batch.setup);
  found.push(...checkBottles(batch, brewery, targets, detail.packed, detail.ambient_kPa));
  const day = timetable(batch, brewery, c, outcome, detail);
  const read = observations(batch, outcome);
  const causes = explain(read, propagation, inputs, batch.recipe.intoFermenter_L.value);
  const brewed = withoutFaults(() => asBrewed(batch, c, read));
  const log = logRows(batch, read);
  const fermentation = fermentationState(batch, log, targets.final_gravity);
  const curve = withoutFaults(() => curveOf(batch, log, read, targets));
  const known = { batch, brewery, c, targets, asBrewed: brewed, readings: read };
  found.push(...faultyReadings(read));
  found.push(
    ...checkReadBottles({ ...known, fermentation, packed: detail.packed, ambient_kPa: detail.ambient_kPa }),
  );
  const plan: Plan = {
    version: 1,
    slug: batch.slug,
    title: batch.title,
    revision: revisionOf([batch.recipe, batch.setup, onPaper(targets)]),
    setup: { key: batch.setup.key, title: batch.setup.title },
    targets,
    timetable: day.rows,
    bitterness: bitternessRows(c, detail),
    kettle: kettleRows(c, detail),
    pauses: day.pauses,
    corrections: correctionRows(batch, c, targets),
    sample_corrections: sampleCorrections(batch, outcome[T.original_gravity]!),
    priming: primingTable(batch, brewery, outcome, detail.ambient_kPa),
    yeast: yeastRows(batch, outcome),
    assumed: assumedFigures(batch.setup, { steep: c.steep !== null, mash: c.mash !== null }),
    readings: verdicts(read, causes, known),
    as_brewed: brewed,
    fermentation,
    ...(curve === null ? {} : { fermentation_curve: curve }),
    swatch: Number.isFinite(outcome[T.colour_srm]!)
      ? { srgb: beerSwatch(Math.min(outcome[T.colour_srm]!, 80), GLASS_CM).hex }
      : null,
    warnings: found.map(({ code, path, found: what, expected, mend }) => ({
      code,
      key: pathText(path),
      message: `${what}; expected ${expected}; ${mend}`,
    })),
  };
  return { ok: true, plan, warnings: found };
}

/** What a sheet says of the targets: values and ranges, not which inputs they owe them to. */
const onPaper = (targets: Targets) =>
  TARGET_KEYS.map((key) => targets[key] && [targets[key].value, targets[key].printed]);

const hasErrors = (problems: readonly Problem[]) => problems.some(({ severity }) => severity === 'error');

function bitternessRows(c: Case, detail: Detail): BitternessRow[] {
  const hops = c.hops.map((hop): BitternessRow => {
    const row = detail.hopRows.find((candidate) => candidate.hop === hop);
    if (!row) return noBitterness(hop.name, hop.item, 'dry hops: no bitterness counted');
    if (row.equivalent_min <= 0) return noBitterness(hop.name, hop.item, 'little, not counted');
    return {
      what: hop.name,
      item: hop.item,
      equivalent_minutes: row.equivalent_min,
      mean_gravity: row.meanGravity_SG,
      utilisation: row.utilisation,
      ibu: row.ibu,
      remark: null,
    };
  });
  const kits = detail.kitBitterness.map(
    ({ part, ibu }): BitternessRow => ({
      what: part.name,
      item: part.item,
      equivalent_minutes: null,
      mean_gravity: null,
      utilisation: null,
      ibu,
      remark: "from the extract's label",
    }),
  );
  return [...hops, ...kits];
}

const noBitterness = (what: string, item: string, remark: string): BitternessRow => ({
  what,
  item,
  equivalent_minutes: null,
  mean_gravity: null,
  utilisation: null,
  ibu: null,
  remark,
});

/** One row a minute; additions between whole minutes are in the row of the next whole minute. */
function kettleRows(c: Case, detail: Detail): KettleRow[] {
  const rows: KettleRow[] = [];
  c.times_min.forEach((minutes_left, i) => {
    if (i !== 0 && !Number.isInteger(minutes_left)) return;
    rows.push({ minutes_left, volume_l: detail.kettle.volume_L[i]!, gravity: detail.kettle.gravity_SG[i]! });
  });
  return rows;
}

function yeastRows(batch: Batch, outcome: Outcome): Plan['yeast'] {
  const { yeast } = batch.recipe;
  return yeast.map((item) => {
    const wanted_billion = outcome[T.yeast_cells_billion]! / yeast.length;
    return {
      name: item.name,
      wanted_billion,
      packs: Math.ceil(wanted_billion / packCells(item) - 1e-9),
      pack: item.pack?.written ?? (item.form === 'dry' ? item.amount.written : 'pack'),
    };
  });
}

function verdicts(
  read: ReturnType<typeof observations>,
  causes: ReadonlyMap<string, string>,
  known: Parameters<typeof adviceOn>[2],
): Record<string, ReadingVerdict> {
  const out: Record<string, ReadingVerdict> = {};
  for (const reading of read) {
    const { key, value, target, fault } = reading;
    const aim = target ? known.targets[target] : null;
    const word = fault ? null : value === null ? 'not_taken' : aim ? verdict(value, aim.printed) : null;
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
