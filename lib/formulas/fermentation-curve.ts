/** How gravity falls while a beer ferments: the five-parameter logistic curve. */
import { requireWithin } from './range.ts';

interface Curve {
  /** Time at which the fall is fastest, days from pitching. */
  readonly inflection_d: number;
  /** How fast the fall sets in, per day. */
  readonly rate_per_d: number;
  /** 1: as steep before the middle as after it; larger: a quick start and a long tail. */
  readonly shape: number;
}

function requireCurve({ inflection_d, rate_per_d, shape }: Curve): void {
  requireWithin('inflection in days', inflection_d, -1e4, 1e4);
  requireWithin('rate per day', rate_per_d, 1e-4, 1e4);
  requireWithin('shape', shape, 0.01, 100);
}

/** ln(1 + eˣ) without overflow. */
const softPlus = (x: number): number => (x > 0 ? x + Math.log1p(Math.exp(-x)) : Math.log1p(Math.exp(x)));

/**
 * Share of the fall of the gravity that is still to come, as a function of the days after pitching.
 *
 * Formula: (P − Pe)/(Pi − Pe) = (1 + s e^(B (t − M)))^(−1/s), P the apparent extract (or the specific gravity, which goes with it
 *   to within a hundredth of the fall), Pi and Pe its levels at the two ends, B the rate, M the inflection, s the shape; s = 1
 *   is the four-parameter logistic curve, s large an exponential decline after a lag.
 * Source: Speers, Rogers & Smith 2003, "Non-linear modelling of industrial brewing fermentations", J. Inst. Brew. 109:229, and
 *   ASBC Methods of Analysis, Yeast-14, for s = 1; with the shape "Predicting fermentation rates in ale, lager and
 *   whisky", Fermentation 2021, 7:13, after Richards 1959, J. Exp. Bot. 10:290. Abstracts opened, equations from memory.
 * Range: inflection −1e4 to 1e4 days, rate 1e-4 to 1e4 per day, shape 0.01 to 100, RangeError outside; any time; result 0 to 1.
 */
export function shareLeftSpeers2003(curve: Curve): (day: number) => number {
  requireCurve(curve);
  const { inflection_d, rate_per_d, shape } = curve;
  const logarithm = Math.log(shape) - rate_per_d * inflection_d;
  return (day) => Math.exp(-softPlus(logarithm + rate_per_d * day) / shape);
}

/**
 * Time after pitching at which a share of the fall of the gravity is still to come.
 *
 * Formula: t = M + ln((r^(−s) − 1)/s)/B, r the share: `shareLeftSpeers2003` solved for the time.
 * Source: as `shareLeftSpeers2003`.
 * Range: share above 0 and below 1, the curve as there; result in days from pitching, below 0 where the share was passed
 *   before it; RangeError outside.
 */
export function dayOfShareLeftSpeers2003(of: Curve & { readonly share: number }): number {
  requireWithin('share of the fall', of.share, 1e-9, 1 - 1e-9);
  requireCurve(of);
  const { shape } = of;
  // r^(−s) − 1 leaves the numbers of a computer for a large shape and a small share; its logarithm does not.
  const power = -shape * Math.log(of.share);
  const logarithm = power > 30 ? power : Math.log(Math.expm1(power));
  return of.inflection_d + (logarithm - Math.log(shape)) / of.rate_per_d;
}
