/** A case brought to what was read: closed mass balances, no search. */
import { extractIn_kg, volumeOf, WATER_KG_PER_L, type Wort, waterForVolume } from '../../formulas/wort.ts';
import { kettleMasses, waterToHeat } from '../model/kettle.ts';
import { finalVolume, pouredShare } from '../model/model.ts';
import type { Case, ExtractPart, OwnCase } from '../model/model-input.ts';

/** Reduced readings by their key. */
export type Values = ReadonlyMap<string, number>;

/** The extract moves volumes by a third of a per cent at most, so each round gains two digits and more. */
const ROUNDS = 5;
/** Yields that a reading may ask for, as a factor: beyond, the reading is wrong and not the malt. */
const FACTOR = { low: 0.2, high: 5 } as const;

/**
 * A copy of a case in which the readings hold.
 *
 * Volumes read take the place of planned ones; evaporation follows from the water at the boil's start and end; the extract of
 * everything in the kettle is scaled by one factor, so that its mass is the one read: volume × density × °P of the original
 * gravity, else of the boil's end, else of its start. The end gravity, the warmest temperature, the packaged volume and the
 * sugar are taken as they are.
 */
export function fitToReadings(planned: Case, read: Values): Case {
  const primed = planned.packages.findIndex((part) => part.co2_g_per_g > 0);
  const alone = planned.packages.length === 1;
  const packages = planned.packages.map((part, i) => {
    if (i !== primed) return part;
    const sugar_g = read.get('packaged.sugar') ?? part.sugar_g;
    return { ...part, sugar_g, volume_L: alone ? null : part.volume_L };
  });
  const parts: { -readonly [K in keyof ExtractPart]: ExtractPart[K] }[] = planned.parts.map((part) => ({
    ...part,
  }));
  const c: OwnCase = {
    ...planned,
    parts,
    packages,
    intoFermenter_L: read.get('fermenter_volume') ?? planned.intoFermenter_L,
    warmest_C: read.get('warmest_after') ?? planned.warmest_C,
    finalRead_SG: read.get('final_gravity') ?? null,
    packagedRead_L: read.get('packaged.volume') ?? null,
  };
  for (let round = 0; round < ROUNDS; round++) {
    setVolumes(c, read);
    const factor = extractFactor(c, read);
    if (factor === null) break;
    for (const part of parts) if (part.stage !== 'fermenter') part.yield *= factor;
    if (Math.abs(factor - 1) <= 1e-12) break;
  }
  return c;
}

/** Water to heat from the volume at the boil's start, evaporation from the one at its end. */
function setVolumes(c: OwnCase, read: Values): void {
  const start_L = read.get('boil_start_volume');
  const end_L = read.get('boil_end_volume');
  if (start_L !== undefined) {
    c.boilVolume_L = start_L;
    c.waterToHeat_L = waterToHeat(c);
  }
  if (end_L === undefined || c.boil_min <= 0) return;
  const { end } = kettleMasses(c);
  const surplus_kg = end.water_kg - waterForVolume(end.extract_kg, end_L);
  const more_L_per_h = (60 * surplus_kg) / WATER_KG_PER_L / c.boil_min;
  c.boilOff_L_per_h = Math.max(0, c.boilOff_L_per_h + more_L_per_h);
}

/** What brings the extract in the kettle to the mass that was read; null where no gravity tells it. */
function extractFactor(c: Case, read: Values): number | null {
  const extract_kg = extractRead(c, read, kettleMasses(c));
  if (extract_kg === null || !(extract_kg.is > 0) || !(extract_kg.wanted > 0)) return null;
  return Math.min(FACTOR.high, Math.max(FACTOR.low, extract_kg.wanted / extract_kg.is));
}

function extractRead(
  c: Case,
  read: Values,
  kettle: { start: Wort; end: Wort; chilled: Wort },
): { is: number; wanted: number } | null {
  const original_SG = read.get('original_gravity');
  if (original_SG !== undefined) {
    const share = pouredShare(c, volumeOf(kettle.chilled));
    return { is: kettle.chilled.extract_kg * share, wanted: extractIn_kg(finalVolume(c), original_SG) };
  }
  for (const [wort, gravity, volume] of [
    [kettle.end, 'boil_end_gravity', 'boil_end_volume'],
    [kettle.start, 'boil_start_gravity', 'boil_start_volume'],
  ] as const) {
    const sg = read.get(gravity);
    if (sg === undefined) continue;
    return { is: wort.extract_kg, wanted: extractIn_kg(read.get(volume) ?? volumeOf(wort), sg) };
  }
  return null;
}
