import { type Fraction, fraction, type Kelvin } from '../../units/brands.ts';
import type { Dimension, DimensionBrand } from '../../units/dimension.ts';
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
import { example } from './examples.ts';
import { AMOUNT, type Bounds, POSSIBLE } from './possible.ts';
import { fault, type Leaf, leaf, quoted, type Read } from './value-fault.ts';

export type Units = 'metric' | 'us';

interface Context {
  readonly units: Units;
}

export { type Bounds, POSSIBLE };

/** A number, its unit, perhaps a standard uncertainty: loose on purpose, the reader itself is exact. */
const WITH_UNIT = String.raw`^\s*[-+~]?\s*[0-9.½¼¾⅓⅔].*[A-Za-z%°"'].*$`;

type Scale<D extends Dimension> = Given<DimensionBrand[D]>;

/** Leaf schemas for every quantity of a file, for a brewer who writes in these units. */
export function quantities(units: Units) {
  const context = { units };
  const inUnits = (samples: readonly string[]) => samples.map((sample) => example(units, sample));
  const asText = (description: string, samples: readonly string[]) => ({
    description,
    samples: inUnits(samples),
    type: 'string',
    pattern: WITH_UNIT,
  });
  const quantity =
    <D extends Dimension>(dimension: D) =>
    (description: string, possible: Bounds, ...samples: string[]): Leaf<Scale<D>> =>
      leaf((text) => within(parseQuantity(text, dimension, context), possible, text, context), {
        ...asText(description, samples),
      });
  return {
    mass: quantity('mass'),
    volume: quantity('volume'),
    temperature: quantity('temperature'),
    time: quantity('time'),
    percent: quantity('percent'),
    power: quantity('power'),
    volumeRate: quantity('volumeRate'),
    absorption: quantity('absorption'),
    carbonation: quantity('carbonation'),
    altitude: quantity('altitude'),
    dose: quantity('dose'),
    ratio: quantity('ratio'),
    temperatureBand: (description: string, possible: Bounds, ...samples: string[]) =>
      leaf((text) => bandWithin(parseRange(text, 'temperature', context), possible, text, context), {
        ...asText(description, samples),
      }),
    percentBand: (description: string, possible: Bounds, ...samples: string[]) =>
      leaf((text) => bandWithin(parseRange(text, 'percent', context), possible, text, context), {
        ...asText(description, samples),
      }),
    percentFigure: (description: string, possible: Bounds, ...samples: string[]) =>
      leaf((text) => percentFigure(text, possible, context), { ...asText(description, samples) }),
    temperatureStep: (description: string) =>
      leaf(
        (text): Read<Given<Kelvin>> =>
          within(parseQuantity(text, 'temperatureDifference', context), POSSIBLE.step, text, context),
        { ...asText(description, ['0.5 °C']) },
      ),
    factor: (description: string, possible: Bounds, sample: string) =>
      leaf((text) => within(readFactor(text), possible, text, context), {
        description,
        samples: [sample],
        type: ['number', 'string'],
      }),
    colour: (description: string, of: 'malt' | 'sugar') =>
      leaf(
        (text) =>
          within(parseQuantity(text, 'colour', context, { colourOf: of }), POSSIBLE.colour, text, context),
        { ...asText(description, ['8 EBC', '4 °L']) },
      ),
    limit: (description: string) =>
      leaf((text) => readLimit(text, context), { ...asText(description, ['3 vol', '4 bar']) }),
    gravity: (description: string, ...samples: string[]) =>
      leaf((text) => parseGravity(text), {
        description,
        samples: inUnits(samples),
        type: ['string', 'number'],
      }),
    volumeReading: (description: string, possible: Bounds, sample: string) =>
      leaf((text) => within(parseVolumeReading(text, context), possible, text, context), {
        ...asText(description, [sample]),
      }),
    amount: (description: string, ...samples: string[]) =>
      leaf((text) => within(parseAmount(text, context), AMOUNT, text, context), {
        description,
        samples: inUnits(samples),
        type: ['string', 'number'],
      }),
    cells: (description: string) =>
      leaf((text) => parseCells(text), { ...asText(description, ['10 billion/g']) }),
    kitBitterness: (description: string) =>
      leaf((text) => parseKitBitterness(text, context), { ...asText(description, ['25 IBU in 23 L']) }),
  };
}

export type Quantities = ReturnType<typeof quantities>;

function within<T extends { readonly value: number }>(
  read: Read<T>,
  possible: Bounds,
  text: string,
  { units }: Context,
): Read<T> {
  if (!read.ok || (read.value.value >= possible.low && read.value.value <= possible.high)) return read;
  return fault('out-of-range', quoted(text), possible.text[units], 'check the figure and its unit');
}

function bandWithin<T extends number>(
  read: Read<GivenRange<T>>,
  possible: Bounds,
  text: string,
  { units }: Context,
): Read<GivenRange<T>> {
  if (!read.ok || (read.value.low >= possible.low && read.value.high <= possible.high)) return read;
  return fault('out-of-range', quoted(text), possible.text[units], 'check the figures and their unit');
}

/** The width of a band over this is its standard uncertainty, any value in it being as likely (JCGM 100, 4.3.7). */
export const RECTANGULAR_WIDTHS = Math.sqrt(12);

/** A percentage, or a band that is taken at its middle. */
function percentFigure(text: string, possible: Bounds, context: Context): Read<Given<Fraction>> {
  const single = within(parseQuantity(text, 'percent', context), possible, text, context);
  if (single.ok || single.code !== 'quantity-range') return single;
  const band = bandWithin(parseRange(text, 'percent', context), possible, text, context);
  if (!band.ok) return band;
  const { low, high, written } = band.value;
  return {
    ok: true,
    value: { value: fraction((low + high) / 2), u: (high - low) / RECTANGULAR_WIDTHS, written },
  };
}

/** A number without a unit, perhaps with its standard uncertainty: `1.04 ± 0.02`. */
function readFactor(text: string): Read<Given<number>> {
  const written = text.trim();
  const parts = /^([0-9]{1,3}(?:[.,][0-9]{1,6})?)(?:\s*±\s*([0-9]{1,3}(?:[.,][0-9]{1,6})?))?$/.exec(written);
  if (parts === null) {
    return fault('not-a-number', quoted(text), 'a number without a unit, such as 1.04', 'write it in digits');
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

/** What a bottle holds: dissolved gas in volumes (or g/L), or gauge pressure. */
function readLimit(text: string, context: Context): Read<Limit> {
  const pressure = /(bar|pa|psi)\s*$/i.test(text);
  const read: Read<Given<number>> = pressure
    ? within(parseQuantity(text, 'pressure', context), POSSIBLE.bottlePressure, text, context)
    : within(parseQuantity(text, 'carbonation', context), POSSIBLE.bottleGas, text, context);
  if (!read.ok) return read;
  return {
    ok: true,
    value: { unit: pressure ? 'kPa' : 'vol', value: read.value.value, written: read.value.written },
  };
}
