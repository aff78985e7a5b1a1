import { sucroseDensity20_kgm3 } from '../../formulas/density.ts';
import { platoOf, volumeOf, WATER_KG_PER_L, type Wort, waterForVolume } from '../../formulas/wort.ts';
import type { Case, Draft, ExtractPart } from './model-input.ts';

// Names of this module: an imported one is looked up again at each of the sixty-odd calls of a run.
const density20 = sucroseDensity20_kgm3;
const plato = platoOf;

/** Of what is no whole number, so that the engine keeps fractions in it from the start. */
const blank = (count: number): number[] => new Array<number>(count).fill(Number.NaN);

/** kg/L at 20 °C. */
const densityOf = (extract_kg: number, water_kg: number): number =>
  density20(plato({ extract_kg, water_kg })) / 1000;

/** A boil as far as its masses go: what the design and the fits to readings need, without its minutes. */
export interface KettleMasses {
  readonly start: Wort;
  /** Once the flame is out and the flame-out additions are in. */
  readonly end: Wort;
  /** What goes to the fermenter's side, after the stand's additions. */
  readonly chilled: Wort;
  /** Fullest moment of boil and stand, L at 20 °C. */
  readonly most_L: number;
}

export interface KettleRun extends KettleMasses {
  /** By the times of the case, after that minute's additions. */
  readonly volume_L: readonly number[];
  readonly gravity_SG: readonly number[];
  /** Mean gravity from each time to the end of the boil, by boil minutes. */
  readonly meanGravity_SG: readonly number[];
}

/** Extract that a part brings, kg: weight × laboratory extract × efficiency. */
export function extractOf(part: ExtractPart, c: Draft): number {
  const efficiency =
    part.efficiency === 'whole' ? 1 : part.efficiency === 'steep' ? c.steepEfficiency : c.mashEfficiency;
  return part.weight_kg * c.scale * part.yield * efficiency;
}

/** Water that a part brings: syrup's own; a grain brings none, its water is held back by absorption. */
function waterOf(part: ExtractPart, c: Draft): number {
  return part.kind === 'grain' ? 0 : part.weight_kg * c.scale * (1 - part.yield);
}

function broughtBy(c: Case, stage: ExtractPart['stage']): Wort {
  let extract_kg = 0;
  let water_kg = 0;
  for (const part of c.parts) {
    if (part.stage !== stage) continue;
    extract_kg += extractOf(part, c);
    water_kg += waterOf(part, c);
  }
  return { extract_kg, water_kg };
}

/** Water held back by drained grain, kg. */
export function waterHeldByGrain(c: Draft): number {
  return (c.steepGrain_kg + c.mashGrain_kg) * c.scale * c.grainAbsorption_L_per_kg * WATER_KG_PER_L;
}

/** Water to put on the stove so that `boilVolume_L` is in the kettle when the countdown begins, L at 20 °C. */
export function waterToHeat(c: Case): number {
  const before = broughtBy(c, 'before');
  const water = waterForVolume(before.extract_kg, c.boilVolume_L) - before.water_kg + waterHeldByGrain(c);
  return water / WATER_KG_PER_L;
}

/** Wort that the hops in the kettle hold, L at 20 °C. */
export function heldByHops(c: Draft): number {
  let weight_kg = 0;
  for (const hop of c.hops) if (hop.stage !== 'dry') weight_kg += hop.weight_kg;
  return weight_kg * c.scale * c.hopAbsorption_L_per_kg;
}

/**
 * The kettle by the minute: extract is conserved, water leaves by evaporation only.
 *
 * The countdown stops while the flame is off, so pauses evaporate nothing and do not appear here.
 * A kettle that boils dry gives a water mass at or below zero: the caller checks `chilled.water_kg`.
 */
export function runKettle(c: Case): KettleRun {
  const times = c.times_min;
  const count = times.length;
  const volume_L = blank(count);
  const gravity_SG = blank(count);
  const meanGravity_SG = blank(count);
  const beforeAddition_SG = blank(count);
  const before = broughtBy(c, 'before');
  let extract_kg = before.extract_kg;
  let water_kg = (c.waterToHeat_L + c.kettleMark_L) * WATER_KG_PER_L + before.water_kg - waterHeldByGrain(c);
  const start: Wort = { extract_kg, water_kg };
  const late = lateParts(c);
  let next = 0;
  let most_L = 0;
  const perMinute_kg = (c.boilOff_L_per_h * WATER_KG_PER_L) / 60;
  for (let i = 0; i < count; i++) {
    if (i > 0) water_kg -= perMinute_kg * (times[i - 1]! - times[i]!);
    let density = densityOf(extract_kg, water_kg);
    beforeAddition_SG[i] = density / WATER_KG_PER_L;
    if (late[next]?.timeIndex === i) {
      for (let part = late[next]; part?.timeIndex === i; part = late[++next]) {
        extract_kg += extractOf(part, c);
        water_kg += waterOf(part, c);
      }
      density = densityOf(extract_kg, water_kg);
    }
    gravity_SG[i] = density / WATER_KG_PER_L;
    const litres = (extract_kg + water_kg) / density;
    volume_L[i] = litres;
    most_L = Math.max(most_L, litres);
  }
  const { end, chilled } = afterFlame(c, { extract_kg, water_kg });
  gravity_SG[count - 1] = densityOf(end.extract_kg, end.water_kg) / WATER_KG_PER_L;
  volume_L[count - 1] = volumeOf(end);
  let area = 0;
  meanGravity_SG[count - 1] = gravity_SG[count - 1]!;
  for (let i = count - 2; i >= 0; i--) {
    area += 0.5 * (gravity_SG[i]! + beforeAddition_SG[i + 1]!) * (times[i]! - times[i + 1]!);
    meanGravity_SG[i] = area / times[i]!;
  }
  most_L = Math.max(most_L, volume_L[count - 1]!, volumeOf(chilled));
  return { volume_L, gravity_SG, meanGravity_SG, start, end, chilled, most_L };
}

const both = (a: Wort, b: Wort): Wort => ({
  extract_kg: a.extract_kg + b.extract_kg,
  water_kg: a.water_kg + b.water_kg,
});

/** What is made of the boiled wort by the additions at flame-out, and then by those of the stand. */
function afterFlame(c: Case, boiled: Wort): Pick<KettleMasses, 'end' | 'chilled'> {
  const end = both(boiled, broughtBy(c, 'flameout'));
  return { end, chilled: both(end, broughtBy(c, 'stand')) };
}

/** Extract and sugar that go in while it boils, in the order of the day. */
function lateParts(c: Case): ExtractPart[] {
  return c.parts.filter((part) => part.stage === 'boil').sort((x, y) => x.timeIndex - y.timeIndex);
}

/** `runKettle` without its minutes: the same masses to the last bit that matters, in a tenth of the time. */
export function kettleMasses(c: Case): KettleMasses {
  const before = broughtBy(c, 'before');
  let extract_kg = before.extract_kg;
  let water_kg = (c.waterToHeat_L + c.kettleMark_L) * WATER_KG_PER_L + before.water_kg - waterHeldByGrain(c);
  const start: Wort = { extract_kg, water_kg };
  let most_L = volumeOf(start);
  const perMinute_kg = (c.boilOff_L_per_h * WATER_KG_PER_L) / 60;
  let left_min = c.boil_min;
  for (const part of lateParts(c)) {
    const at_min = c.times_min[part.timeIndex]!;
    water_kg += waterOf(part, c) - perMinute_kg * (left_min - at_min);
    extract_kg += extractOf(part, c);
    left_min = at_min;
    most_L = Math.max(most_L, volumeOf({ extract_kg, water_kg }));
  }
  const { end, chilled } = afterFlame(c, { extract_kg, water_kg: water_kg - perMinute_kg * left_min });
  return { start, end, chilled, most_L: Math.max(most_L, volumeOf(end), volumeOf(chilled)) };
}
