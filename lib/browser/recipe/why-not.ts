/** Why a recipe cannot be brewed in a friend's kitchen, and what to change: found by trying, so that what is said helps. */
import { formatVolume, formatVolumeRate, nonBreaking } from '../../units/format/format.ts';
import { capital, sentence } from '../../words/words.ts';
import { type Changes, FIGURES, type TravelData } from './changes.ts';
import { travel } from './fit-to-kitchen.ts';

/** A search goes by such steps, and back by half of one: a cook wants to know about how large, not to the spoonful. */
const STEP = 1.4;
/** Searches end after so many plans: some hundred milliseconds. */
const MOST_STEPS = 8;

/** A volume as it would be bought or marked: half litres, whole ones from 10 L. */
const stepOf = (volume_L: number): number => (volume_L < 10 ? 0.5 : 1);

/** About the nearest figure that serves, from one that does not towards a bound; null where none is found. */
function nearest(from: number, bound: number, serves: (value: number) => boolean): number | null {
  const up = bound > from;
  const factor = up ? STEP : 1 / STEP;
  const whole = (value: number): number =>
    (up ? Math.ceil : Math.floor)(value / stepOf(value)) * stepOf(value);
  let value = from;
  for (let step = 0; step < MOST_STEPS; step++) {
    value *= factor;
    const tried = whole(value);
    if (up ? tried > bound : tried < bound) return null;
    if (!serves(tried)) continue;
    const back = whole(value / Math.sqrt(factor));
    return serves(back) ? back : tried;
  }
  return null;
}

/** What to change, in sentences; nothing of formulas. Where the plan itself says what is wrong, that follows it. */
export function whyNot(data: TravelData, changes: Changes, found: readonly string[]): readonly string[] {
  return [cause(data, changes), ...found.map((text) => sentence(capital(text)))];
}

function cause(data: TravelData, changes: Changes): string {
  const units = changes.units ?? data.brewery.units;
  const { recipe, setup } = data.batch;
  const into_L = changes.intoFermenter_L ?? recipe.intoFermenter_L.value;
  const kettle_L = changes.kettle_L ?? setup.kettle_L.value;
  const volume = (value: number): string => nonBreaking(formatVolume(value, units));
  const serves = (other: Changes): boolean => travel(data, { ...changes, ...other }).ok;
  const { boilOff_L_per_h } = changes;
  if (
    boilOff_L_per_h !== undefined &&
    boilOff_L_per_h > setup.boilOff_L_per_h.value &&
    serves({ boilOff_L_per_h: setup.boilOff_L_per_h.value })
  ) {
    const [here, there] = [boilOff_L_per_h, setup.boilOff_L_per_h.value].map((value) =>
      nonBreaking(formatVolumeRate(value, units)),
    );
    return `This does not work with a boil-off of ${here}: with the ${there} that the recipe was written for it does. Boil more gently, or put more into the fermenter.`;
  }
  if (kettle_L < FIGURES.kettle_L.high && serves({ kettle_L: FIGURES.kettle_L.high })) {
    const larger_L = nearest(kettle_L, FIGURES.kettle_L.high, (value) => serves({ kettle_L: value }));
    const less_L = nearest(into_L, FIGURES.intoFermenter_L.low, (value) =>
      serves({ intoFermenter_L: value }),
    );
    const ways = [
      larger_L === null ? 'take a larger kettle' : `take a kettle of about ${volume(larger_L)} or more`,
      ...(less_L === null ? [] : [`put about ${volume(less_L)} into the fermenter`]),
    ];
    return `This does not go into a kettle of ${volume(kettle_L)}: ${ways.join(', or ')}.`;
  }
  const { heat_kW: _heat, altitude_m: _altitude, alphas: _alphas, extract: _extract, ...vessels } = changes;
  if (travel(data, vessels).ok)
    return 'This does not work with the heat, altitude, hops or extract above: take one of them back to what the recipe has.';
  return 'These figures do not go together: take a larger kettle, another volume into the fermenter, or a smaller boil-off.';
}
