import { type Fraction, fraction } from '../../units/brands.ts';
import { DIMENSIONS, type Dimension, type DimensionBrand, type Units } from '../../units/dimension.ts';
import { formatSample, joined, temperatureParts } from '../../units/format/format.ts';
import type { Given, GivenRange } from '../../units/parse/given.ts';
import {
  parseAmount,
  parseCells,
  parseGravity,
  parseKitBitterness,
  parseQuantity,
  parseRange,
  parseVolumeReading,
} from '../../units/parse/parse.ts';
import { AMOUNT, type Bounds, POSSIBLE } from '../../units/parse/possible.ts';
import { fault, type Leaf, leaf, quoted, type Read } from './value-fault.ts';

/** A number, its unit, perhaps a standard uncertainty: loose on purpose, the reader itself is exact. */
const WITH_UNIT = String.raw`^\s*[-+~]?\s*[0-9.½¼¾⅓⅔].*[A-Za-z%°"'].*$`;

/** An example: a figure in the internal unit, shown in the brewer's own, or words that are the same in every kitchen. */
type Sample = number | string;

/** Leaf schemas for every quantity of a file, for a brewer who writes in these units. */
export function quantities(units: Units) {
  const context = { units };
  const shown = (sample: Sample, dimension: Dimension): string =>
    typeof sample === 'string' ? sample : formatSample(sample, dimension, units);
  const figure = <T>(description: string, samples: readonly string[], read: (text: string) => Read<T>) =>
    leaf(read, { description, samples, type: 'string', pattern: WITH_UNIT });
  /** What YAML may take for a number. */
  const number = <T>(description: string, samples: readonly string[], read: (text: string) => Read<T>) =>
    leaf(read, { description, samples, type: ['string', 'number'] });
  const outside = (possible: Bounds, text: string, figure: string) =>
    fault('out-of-range', { text: quoted(text), possible: possible.text[units], figure });
  const within = <T extends { readonly value: number }>(read: Read<T>, possible: Bounds, text: string) =>
    !read.ok || (read.value.value >= possible.low && read.value.value <= possible.high)
      ? read
      : outside(possible, text, 'figure and its unit');
  /** Readers of one dimension: what a key says of itself, an example or two, and bounds where they are not the usual. */
  const quantity =
    <D extends Dimension>(dimension: D, usual: Bounds) =>
    (
      description: string,
      sample: Sample | readonly Sample[],
      possible = usual,
    ): Leaf<Given<DimensionBrand[D]>> =>
      figure(
        description,
        [sample].flat().map((one: Sample) => shown(one, dimension)),
        (text) => within(parseQuantity(text, dimension, context), possible, text),
      );
  const bandOf = <D extends Dimension>(dimension: D, possible: Bounds, text: string) => {
    const read: Read<GivenRange<DimensionBrand[D]>> = parseRange(text, dimension, context);
    return !read.ok || (read.value.low >= possible.low && read.value.high <= possible.high)
      ? read
      : outside(possible, text, 'figures and their unit');
  };
  /** A percentage, or a band that is taken at its middle. */
  const percentFigure = (text: string, possible: Bounds): Read<Given<Fraction>> => {
    const single = within(parseQuantity(text, 'percent', context), possible, text);
    if (single.ok || single.code !== 'quantity-range') return single;
    const band = bandOf('percent', possible, text);
    if (!band.ok) return band;
    const { low, high, written } = band.value;
    const value = fraction((low + high) / 2);
    return { ok: true, value: { value, u: (high - low) / RECTANGULAR_WIDTHS, written } };
  };
  /** What a bottle holds: dissolved gas in volumes (or g/L), or gauge pressure. */
  const limit = (text: string): Read<Limit> => {
    const pressure = /(bar|pa|psi)\s*$/i.test(text);
    const read: Read<Given<number>> = pressure
      ? within(parseQuantity(text, 'pressure', context), POSSIBLE.bottlePressure, text)
      : within(parseQuantity(text, 'carbonation', context), POSSIBLE.bottleGas, text);
    if (!read.ok) return read;
    const { value, written } = read.value;
    return { ok: true, value: { unit: pressure ? 'kPa' : 'vol', value, written } };
  };
  const colours = DIMENSIONS.colour.written;
  return {
    units,
    shown,
    mass: quantity('mass', POSSIBLE.mass),
    volume: quantity('volume', POSSIBLE.volume),
    temperature: quantity('temperature', POSSIBLE.liquor),
    temperatureStep: quantity('temperatureDifference', POSSIBLE.step),
    time: quantity('time', POSSIBLE.time),
    percent: quantity('percent', POSSIBLE.percent),
    power: quantity('power', POSSIBLE.power),
    volumeRate: quantity('volumeRate', POSSIBLE.boilOff),
    absorption: quantity('absorption', POSSIBLE.absorption),
    carbonation: quantity('carbonation', POSSIBLE.carbonation),
    altitude: quantity('altitude', POSSIBLE.altitude),
    dose: quantity('dose', POSSIBLE.dose),
    ratio: quantity('ratio', POSSIBLE.mashRatio),
    temperatureBand: (description: string, low: number, high: number) =>
      figure(description, [bandText(low, high, units)], (text) => bandOf('temperature', POSSIBLE.beer, text)),
    percentBand: (description: string, sample: string, possible: Bounds = POSSIBLE.percent) =>
      figure(description, [sample], (text) => bandOf('percent', possible, text)),
    percentFigure: (description: string, samples: readonly string[], possible: Bounds = POSSIBLE.percent) =>
      figure(description, samples, (text) => percentFigure(text, possible)),
    factor: (description: string, sample: string) => {
      const meta = { description, samples: [sample], type: ['number', 'string'] };
      return leaf((text) => within(readFactor(text), POSSIBLE.factor, text), meta);
    },
    colour: (description: string, colourOf: 'malt' | 'sugar') =>
      figure(description, [...new Set([colours[units].example, colours.us.example])], (text) =>
        within(parseQuantity(text, 'colour', context, { colourOf }), POSSIBLE.colour, text),
      ),
    limit: (description: string) => figure(description, ['3 vol', shown(400, 'pressure')], limit),
    gravity: (description: string, sample: string) => number(description, [sample], parseGravity),
    volumeReading: (description: string, sample: string, possible: Bounds) =>
      figure(description, [sample], (text) => within(parseVolumeReading(text, context), possible, text)),
    /** A sample that is a number is one in grams. */
    amount: (description: string, ...samples: Sample[]) =>
      number(
        description,
        samples.map((one) => shown(one, 'mass')),
        (text) => within(parseAmount(text, context), AMOUNT, text),
      ),
    cells: (description: string) => figure(description, ['10 billion/g'], parseCells),
    kitBitterness: (description: string) =>
      figure(description, [`25 IBU in ${shown(23, 'volume')}`], (text) => parseKitBitterness(text, context)),
  };
}

export type Quantities = ReturnType<typeof quantities>;

/** The width of a band over this is its standard uncertainty, any value in it being as likely (JCGM 100, 4.3.7). */
export const RECTANGULAR_WIDTHS = Math.sqrt(12);

/** A band of temperatures that nobody wrote, in a brewer's units. */
export function bandText(low_C: number, high_C: number, units: Units): string {
  const [low, high] = [low_C, high_C].map((one) => temperatureParts(one, units, units === 'us' ? 0 : 1));
  return low!.number === high!.number ? joined(low!) : `${low!.number}-${joined(high!)}`;
}

/** A number without a unit, perhaps with its standard uncertainty: `1.04 ± 0.02`. */
function readFactor(text: string): Read<Given<number>> {
  const written = text.trim();
  const parts = /^([0-9]{1,3}(?:[.,][0-9]{1,6})?)(?:\s*±\s*([0-9]{1,3}(?:[.,][0-9]{1,6})?))?$/.exec(written);
  if (parts === null) {
    return fault('not-a-number', { text: quoted(text), sample: '1.04', how: '' });
  }
  const number = (digits: string | undefined) => Number(digits?.replace(',', '.'));
  const u = parts[2] === undefined ? null : number(parts[2]);
  return { ok: true, value: { value: number(parts[1]), u, written } };
}

export interface Limit {
  readonly unit: 'vol' | 'kPa';
  readonly value: number;
  readonly written: string;
}
