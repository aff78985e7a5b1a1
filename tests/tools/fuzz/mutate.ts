/** Turns files that are well into files that may be ill, in bytes, lines, figures and structure. */
import type { Random } from './random.ts';

type Mutation = (bytes: Buffer, random: Random, others: readonly Buffer[]) => Buffer;

const cut = (bytes: Buffer, from: number, to: number, put: Uint8Array = Buffer.alloc(0)): Buffer =>
  Buffer.concat([bytes.subarray(0, from), put, bytes.subarray(to)]);

/** Two places, the first before the second, at most `longest` apart. */
function span(bytes: Buffer, random: Random, longest: number): [number, number] {
  const from = random.below(bytes.length + 1);
  return [from, Math.min(bytes.length, from + 1 + random.below(longest))];
}

const BYTES: readonly Mutation[] = [
  (bytes, random) => {
    const at = random.below(bytes.length);
    return cut(bytes, at, at + 1, Buffer.from([(bytes[at] ?? 0) ^ (1 << random.below(8))]));
  },
  (bytes, random) => {
    const at = random.below(bytes.length + 1);
    return cut(bytes, at, at, Buffer.from([random.below(256)]));
  },
  (bytes, random) => cut(bytes, ...span(bytes, random, 40)),
  (bytes, random) => bytes.subarray(0, random.below(bytes.length + 1)),
  (bytes, random) => {
    const [from, to] = span(bytes, random, 200);
    return cut(bytes, to, to, bytes.subarray(from, to));
  },
  (bytes, random, others) => {
    const other = random.pick(others);
    const [from, to] = span(other, random, 400);
    const at = random.below(bytes.length + 1);
    return cut(bytes, at, at, other.subarray(from, to));
  },
];

const byLines =
  (change: (lines: string[], random: Random, others: readonly Buffer[]) => void): Mutation =>
  (bytes, random, others) => {
    const lines = bytes.toString('utf8').split('\n');
    change(lines, random, others);
    return Buffer.from(lines.join('\n'));
  };

const LINES: readonly Mutation[] = [
  byLines((lines, random) => void lines.splice(random.below(lines.length), 1 + random.below(3))),
  byLines((lines, random) => {
    const line = random.pick(lines);
    lines.splice(random.below(lines.length), 0, line);
  }),
  byLines((lines, random) => {
    const [a, b] = [random.below(lines.length), random.below(lines.length)];
    [lines[a], lines[b]] = [lines[b] ?? '', lines[a] ?? ''];
  }),
  byLines((lines, random) => {
    const at = random.below(lines.length);
    lines[at] = random.chance(0.5) ? ` ${lines[at]}` : (lines[at] ?? '').slice(1);
  }),
  byLines((lines, random, others) => {
    const other = random.pick(others).toString('utf8').split('\n');
    const from = random.below(other.length);
    lines.splice(random.below(lines.length), 0, ...other.slice(from, from + 1 + random.below(6)));
  }),
  (bytes) => Buffer.from(bytes.toString('utf8').replaceAll('\n', '\r\n')),
  (bytes) => Buffer.from(`\ufeff${bytes.toString('utf8').replaceAll('\n', '\r')}`),
];

const FIGURES =
  '0 -0 -1 1 0.001 0.5 0,5 1e9 1e-9 1e400 9007199254740993 999999999 0x1F 1_000 ½ 1/2 1/0 1.0000001 .5 5. 00012 ٣ 1.000 1.5 2 3 7 12 99 100 101 1000 ~ null -'.split(
    ' ',
  );
const UNITS =
  'g kg mg L ml gal qt tsp lb oz °C °F K % EBC SRM °L °P Bx vol min h days L/h kW L/kg g/L IBU h'.split(' ');
const WORDS = [
  'flameout',
  'stand',
  'dry',
  'first wort',
  'steep',
  'fermenter',
  'not taken',
  'keg',
  '[]',
  '{ a: { b: { c: d } } }',
  '.nan',
  '&a [*a]',
  '!!js/function "x"',
  '<<',
  '|',
  '__proto__',
  '17-21 °C',
  '17-99 °C',
  '19 ± 200 L',
  '19 L @ 400 °C',
  '1.044 @ 99 °C',
  '2026-02-30',
  '9999-12-31 23:59',
  '\u202e30 g',
  '{{ 7 * 7 }}',
  '\\',
  '"\\u0000"',
  '"\\ud800"',
  '"\\e[2J"',
  'x'.repeat(500),
];

/** Puts something else in the place of one of the things that a pattern finds. */
const instead =
  (pattern: RegExp, put: (found: string, random: Random) => string): Mutation =>
  (bytes, random) => {
    const text = bytes.toString('utf8');
    const found = [...text.matchAll(pattern)];
    if (found.length === 0) return bytes;
    const one = random.pick(found);
    return Buffer.from(
      text.slice(0, one.index) + put(one[0], random) + text.slice(one.index + one[0].length),
    );
  };

const scaled = (found: string, random: Random): string => {
  const factor = random.pick([0.001, 0.01, 0.1, 0.5, 0.9, 1.1, 2, 10, 100, 1000]);
  return String(Number((Number(found) * factor).toPrecision(4)));
};

const VALUES: readonly Mutation[] = [
  instead(/(?<![\w.])\d+(?:\.\d+)?/g, scaled),
  instead(/(?<![\w.])\d+(?:\.\d+)?/g, scaled),
  instead(/(?<![\w.])\d+(?:\.\d+)?/g, (_, random) => random.pick(FIGURES)),
  instead(/(?<=\d )[A-Za-z°%/]+/g, (_, random) => random.pick(UNITS)),
  instead(/(?<=: )[^\s{}[\],][^{}[\],\n]*/g, (_, random) => random.pick(WORDS)),
  instead(/(?<=: )[^\s{}[\],][^{}[\],\n]*/g, (_, random) => `${random.pick(FIGURES)} ${random.pick(UNITS)}`),
  instead(/\b[a-z_]+(?=:)/g, (_, random) =>
    random.pick(['title', 'add', 'in', 'note', 'into', '__proto__', 'on']),
  ),
  instead(/, [a-z_]+: [^,{}\n]*/g, () => ''),
  instead(/ {4}- .*\n/g, (found, random) => found.repeat(random.pick([0, 2, 3, 20]))),
  instead(/ {2}[a-z_]+: .*\n/g, () => ''),
];

const KINDS: readonly (readonly [share: number, mutations: readonly Mutation[]])[] = [
  [0.75, VALUES],
  [0.9, LINES],
  [1, BYTES],
];

/** A file with one to four things changed in it. */
export function mutate(bytes: Buffer, random: Random, others: readonly Buffer[]): Buffer {
  let changed = bytes;
  for (let left = random.pick([1, 1, 1, 2, 4]); left > 0; left -= 1) {
    const kind = random.next();
    const mutations = KINDS.find(([share]) => kind < share)?.[1] ?? BYTES;
    if (changed.length > 0) changed = random.pick(mutations)(changed, random, others);
  }
  return changed;
}
