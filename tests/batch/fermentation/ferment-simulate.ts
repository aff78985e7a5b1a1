/** Beers that ferment by a law that is known, and the logs that a brewer would keep of them. */
import { FERMENTATION_DEFAULTS as D } from '../../../lib/batch/model/defaults.ts';
import type { LogRow } from '../../../lib/batch/readings/log-rows.ts';
import type { randomFrom } from '../learning/random.ts';

export type Random = ReturnType<typeof randomFrom>;
/** Share of the fall that is left on a day after pitching: all of it on day 0. */
export type Law = (day: number) => number;

const spread = (random: Random, { value, u }: { readonly value: number; readonly u: number }) =>
  value * Math.exp(random.normal(0, u / value));
/** Days to the half, as the laws that are not the fit's own have them: from one and a half to three, mostly. */
const halfOf = (random: Random) => 2.2 * Math.exp(random.normal(0, 0.35));
const fromOne = (left: Law): Law => {
  const all = left(0);
  return (day) => left(day) / all;
};

/** Laws by name, each with figures of its own drawn anew for every beer. */
export const LAWS: Readonly<Record<string, (random: Random) => Law>> = {
  /** The fit's own curve, with figures from its own expectation at 19 °C. */
  'the curve itself': (random) => {
    const half = spread(random, D.halfFall) * 2 ** (1 / D.twiceAsSlow.value);
    const tail = spread(random, D.tail);
    const s = spread(random, D.shape);
    return fromOne((day) => (1 + (2 ** s - 1) * Math.exp(s * tail * (day / half - 1))) ** (-1 / s));
  },
  /** As published for breweries: even on both sides of its half. */
  'the four-parameter logistic curve': (random) => {
    const half = halfOf(random);
    const rate = (3 * Math.exp(random.normal(0, 0.2))) / half;
    return fromOne((day) => 1 / (1 + Math.exp(rate * (day - half))));
  },
  /** Gompertz 1825, the curve of Zwietering et al. 1990, Appl. Environ. Microbiol. 56:1875. */
  "Gompertz's curve": (random) => {
    const half = halfOf(random);
    const rate = (1.8 * Math.exp(random.normal(0, 0.2))) / half;
    return fromOne((day) => 1 - Math.exp(-Math.LN2 * Math.exp(-rate * (day - half))));
  },
  'an exponential decline after a lag': (random) => {
    const half = halfOf(random);
    const lag = 0.3 * half * random.uniform();
    return (day) => (day < lag ? 1 : 0.5 ** ((day - lag) / (half - lag)));
  },
  /** Yeast that grows to its crowd and eats one sugar fast, and a fifth of the fall as another, slowly. */
  'two sugars, one after the other': (random) => {
    const half = halfOf(random);
    const [grow, fast] = [3.5 / half, 2.2 / half];
    const slow = fast * (0.35 + 0.2 * random.uniform());
    let later = 0.15 + 0.1 * random.uniform();
    let first = 1 - later;
    let yeast = 0.08;
    const left: number[] = [];
    for (let step = 0; step < 6000; step++) {
      left.push(first + later);
      const there = yeast;
      yeast += STEP * grow * there * (1 - there);
      first = Math.max(0, first - (STEP * fast * there * first * 1.1) / (first + 0.1));
      later -= (STEP * slow * there * later) / (1 + 2 * first);
    }
    return (day) => left[Math.min(left.length - 1, Math.round(day / STEP))]!;
  },
};
/** Days; the half takes some two hundred steps. */
const STEP = 0.01;

export interface Beer {
  readonly original: number;
  readonly final: number;
  readonly gravity: (day: number) => number;
}

export interface Log {
  readonly original: number;
  readonly rows: readonly LogRow[];
}

/** Half of a graduation of 0.002. */
export const READING_U = 0.001;

/**
 * Two to six readings, one to four and a half days apart, noisy and written to the third decimal.
 *
 * @param stray_SG how far the beer itself strays from its law
 */
export function logOf(beer: Beer, pitched: number, stray_SG: number, random: Random): Log {
  const noise = Math.hypot(READING_U, stray_SG);
  const read = (sg: number) => Math.round((sg + random.normal(0, noise)) * 1000) / 1000;
  const original = Math.round((beer.original + random.normal(0, READING_U)) * 1000) / 1000;
  const count = 2 + Math.floor(5 * random.uniform());
  let day = 1 + 3 * random.uniform();
  const rows = Array.from({ length: count }, (_, i): LogRow => {
    const at = day;
    day += 1 + 3.5 * random.uniform();
    const key = `fermentation[${i}].gravity`;
    return { key, day: pitched + at, hasClock: true, sg: read(beer.gravity(at)), u: READING_U, t_C: 19 };
  });
  return { original, rows };
}
