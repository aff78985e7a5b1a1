import {
  type Group,
  nameOfPart,
  type One,
  READINGS,
  type ReadingKey,
  type ReadingKind,
  type Readings,
  type Rows,
} from './readings.ts';

/** Where one figure is found below `readings`: `pitched.on`, `fermentation[0].gravity`. */
export interface Place {
  readonly of: ReadingKey;
  readonly row: number | null;
  readonly part: string | null;
}

export const placeText = ({ of, row, part }: Place): string =>
  `${of}${row === null ? '' : `[${row}]`}${part === null ? '' : `.${part}`}`;

/**
 * The place that a key path leads to; `packaged.volume` is the first row of a list that is written without one, `top_up` the
 * whole group. Null for what is no reading.
 */
export function placeOf(text: string): Place | null {
  const match = /^([a-z_]+)(?:\[(\d{1,6})\])?(?:\.([a-z_]+))?$/.exec(text);
  if (match === null) return null;
  const [, of = '', index, part = null] = match;
  if (!isReadingKey(of)) return null;
  const spec: One | Group | Rows = READINGS[of];
  if (!('shape' in spec)) return part === null && index === undefined ? { of, row: null, part } : null;
  if (part !== null && !Object.hasOwn(spec.parts, part)) return null;
  if (spec.shape === 'group') return index === undefined ? { of, row: null, part } : null;
  if (part !== null && index === undefined && !spec.single) return null;
  return { of, row: index !== undefined ? Number(index) : part === null ? null : 0, part };
}

const isReadingKey = (text: string): text is ReadingKey => Object.hasOwn(READINGS, text);

/** What the table says of a place; null for a whole group or list. */
export function specOf({ of, part }: Place): One | null {
  const spec: One | Group | Rows = READINGS[of];
  if (!('shape' in spec)) return spec;
  return part === null ? null : (spec.parts[part] ?? null);
}

/** What is read at a place, by its key in the plan; null for a whole group or list. */
export function kindAt(key: string): ReadingKind | null {
  const place = placeOf(key);
  return place && (specOf(place)?.kind ?? null);
}

/** What the archive holds at a place: its value, `not taken`, or null where nothing is written. */
export function valueAtPlace(readings: Readings, place: Place): unknown {
  const { of, row, part } = place;
  const whole: unknown = readings[of] ?? null;
  if (whole === null || whole === 'not taken' || part === null) return whole;
  const own: unknown = row === null ? whole : (whole as readonly unknown[])[row];
  const spec = specOf(place);
  if (spec === null || typeof own !== 'object' || own === null) return null;
  return (own as Readonly<Record<string, unknown>>)[nameOfPart(part, spec)] ?? null;
}

/** Key of a reading in the plan: that of a single packaging has no number in it. */
export function planKey(place: Place, { packaged }: Readings): string {
  const alone = place.of === 'packaged' && Array.isArray(packaged) && packaged.length === 1;
  return placeText(alone ? { ...place, row: null } : place);
}
