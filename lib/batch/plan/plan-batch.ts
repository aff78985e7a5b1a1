import { specificGravityFromPlato } from '../../formulas/gravity.ts';
import { OutOfRange } from '../../formulas/range.ts';
import { beerSwatch } from '../../formulas/swatch.ts';
import { extractIn_kg, platoOf, waterForVolume } from '../../formulas/wort.ts';
import { dryYeastWanted_g } from '../../formulas/yeast.ts';
import type { GivenGravity } from '../../units/parse/given.ts';
import { pathText } from '../../units/problem.ts';
import { checkBottles } from '../judgment/check-bottles.ts';
import { isOver } from '../judgment/judge.ts';
import { assumedFigures } from '../model/assumed.ts';
import { buildCase, dryPack_g, kettleLoss, packCells } from '../model/build-model-input.ts';
import { designBoil } from '../model/design.ts';
import { type Detail, dryPacks, runModel } from '../model/model.ts';
import type { Case } from '../model/model-input.ts';
import { withSugar } from '../model/packaging.ts';
import { type Outcome, TARGET_INDEX as T } from '../model/target-vector.ts';
import type { Batch } from '../types/batch.ts';
import type { Brewery } from '../types/brewery.ts';
import {
  type BitternessRow,
  type KettleRow,
  type Plan,
  type PlanResult,
  printedTargets,
  type Targets,
} from '../types/plan.ts';
import { BatchFindings } from '../types/problem.ts';
import { TARGET_KEYS } from '../types/targets.ts';
import { allFigures } from '../uncertainty/figures.ts';
import { uncertainInputs } from '../uncertainty/inputs.ts';
import { propagate } from '../uncertainty/propagate.ts';
import { checkDesign } from './check-design.ts';
import { checkOutcome, checkRecipe } from './checks.ts';
import { finishAsPlanned, type Planned, type ReadBack, readBack } from './compare-with-readings.ts';
import { revisionOf } from './revision.ts';
import { correctionRows, primingTable, sampleCorrections } from './tables.ts';
import { timetable } from './timetable.ts';

const GLASS_CM = 5;

/**
 * Everything that is computed for a batch, once: targets with their ranges, timetable, tables, verdicts, warnings.
 *
 * Pure: `today`, `2026-02-14`, only moves the day of a next reading that has passed. A recipe that physics forbids gives problems by key path and no plan; doubts are warnings of the plan.
 * Never throws for a brewer's mistake: a figure that leaves the range of its formula is a problem too.
 */
export function planBatch(batch: Batch, brewery: Brewery, today: string | null = null): PlanResult {
  return planWith(batch, brewery, readBack, today);
}

/** What a batch says that nobody has brewed yet. */
const unread = (planned: Planned): ReadBack => ({
  found: [],
  plan: {
    readings: {},
    judgments: [],
    bottles: null,
    as_brewed: null,
    finish: finishAsPlanned(planned),
    fermentation: null,
  },
});

/** The same for a recipe that nobody has brewed yet: a page that plans recipes need not carry what is done with readings. */
export function planUnread(batch: Batch, brewery: Brewery): PlanResult {
  return planWith(batch, brewery, unread, null);
}

type Read = (planned: Planned) => ReadBack;

function planWith(batch: Batch, brewery: Brewery, read: Read, today: string | null): PlanResult {
  try {
    return computePlan(batch, brewery, read, today);
  } catch (error) {
    if (!(error instanceof OutOfRange)) throw error;
    const found = new BatchFindings();
    found.error('figure-out-of-range', ['recipe'], { found: error.message });
    return { ok: false, problems: found.problems };
  }
}

function computePlan(batch: Batch, brewery: Brewery, read: Read, today: string | null): PlanResult {
  const draft = buildCase(batch);
  const found = new BatchFindings();
  const { problems } = found;
  checkRecipe(batch, brewery, draft, found);
  if (found.failed) return { ok: false, problems };
  const designed = designBoil(draft);
  checkDesign(batch, brewery, designed, found);
  if (found.failed) return { ok: false, problems };
  const { outcome, detail } = runModel(designed);
  const c = withSugar(designed, detail.packed);
  checkOutcome(batch, brewery, c, outcome, detail, found);
  if (found.failed) return { ok: false, problems };

  const inputs = uncertainInputs(batch, c);
  const propagation = propagate(c, inputs);
  const targets = allFigures(propagation, inputs, batch.setup);
  const day = timetable(batch, c, outcome, detail);
  const { printed } = batch;
  const kept = printed === undefined ? {} : { printed };
  const held = printedTargets({ targets, ...kept });
  const back = read({ batch, c, outcome, detail, inputs, propagation, targets: held, today });
  if (back.plan.bottles === null && !isOver(batch)) checkBottles(batch, targets, detail.ambient_kPa, found);
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
    priming: primingTable(batch, brewery, outcome, c, detail.ambient_kPa),
    yeast: yeastRows(batch, c, outcome),
    label: labelOf(batch, detail),
    assumed: assumedFigures(
      { ...batch.setup, kettleLoss_L: kettleLoss(batch) },
      { steep: c.steep !== null, mash: c.mash !== null },
      brewery.units,
    ),
    ...kept,
    ...back.plan,
    swatch: Number.isFinite(outcome[T.colour_srm]!)
      ? { srgb: beerSwatch(Math.min(outcome[T.colour_srm]!, 80), GLASS_CM).hex }
      : null,
    warnings: problems.map(({ code, path, found: what, expected, mend }) => ({
      code,
      key: pathText(path),
      message: `${what}; expected ${expected}; ${mend}`,
    })),
  };
  // What is wrong with a reading is said of it, once; with its place in the file only at the terminal.
  return { ok: true, plan, warnings: [...problems, ...back.found] };
}

/** What a sheet says of the targets: values and ranges, not which inputs they owe them to. */
const onPaper = (targets: Targets) =>
  TARGET_KEYS.map((key) => targets[key] && [targets[key].value, targets[key].printed]);

function bitternessRows(c: Case, detail: Detail): BitternessRow[] {
  const hops = c.hops.map((hop): BitternessRow => {
    const item = `hops[${hop.index}]`;
    const row = detail.hopRows.find((candidate) => candidate.hop === hop);
    if (!row) return noBitterness(hop.name, item, 'dry hops: no bitterness counted');
    if (row.equivalent_min <= 0) return noBitterness(hop.name, item, 'little, not counted');
    return {
      what: hop.name,
      item,
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
      item: `${part.kind}[${part.index}]`,
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

/** What each yeast is wanted of, dry yeast by weight too; several share the wort. */
function yeastRows(batch: Batch, c: Case, outcome: Outcome): Plan['yeast'] {
  const { yeast } = batch.recipe;
  const share_L = c.intoFermenter_L / yeast.length;
  return yeast.map((item) => {
    const wanted_billion = outcome[T.yeast_cells_billion]! / yeast.length;
    const wort = {
      volume_L: share_L,
      plato_P: outcome[T.original_extract_plato]!,
      lager: c.yeast?.lager ?? false,
    };
    const wanted_g = item.form === 'dry' ? dryYeastWanted_g(wort) : null;
    const packs = wanted_g ? dryPacks(wanted_g.low, dryPack_g(item)) : wanted_billion / packCells(item);
    return {
      name: item.name,
      wanted_billion,
      wanted_g,
      packs: Math.ceil(packs - 1e-9),
      pack: item.pack?.written ?? (item.form === 'dry' ? item.amount.written : 'pack'),
    };
  });
}

/** A label's gravity as SG 20/20; °P and °Bx are one scale before fermentation. */
function gravityOf(given: GivenGravity | null): number | null {
  if (given === null) return null;
  return given.scale === 'sg' ? given.value : specificGravityFromPlato(given.value);
}

/** What a kit's box says, beside what its extract can give: the label is compared, never aimed at. */
function labelOf(batch: Batch, { inFermenter: { extract_kg } }: Detail): Plan['label'] {
  const { label } = batch.recipe;
  if (!label) return null;
  const original = gravityOf(label.originalGravity);
  const volume_L = label.volume_L?.value ?? null;
  const water_kg = volume_L === null ? null : waterForVolume(extract_kg, volume_L);
  return {
    original_gravity: original,
    final_gravity: gravityOf(label.finalGravity),
    volume_l: volume_L,
    reachable_gravity:
      water_kg !== null && water_kg > 0 ? specificGravityFromPlato(platoOf({ extract_kg, water_kg })) : null,
    volume_for_label_l: original !== null && original > 1 ? extract_kg / extractIn_kg(1, original) : null,
  };
}
