import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { editReadings, type ReadingChange } from '../../../lib/archive/write/edit-readings.ts';
import type { KeyPath } from '../../../lib/units/problem.ts';
import { generatedChanges, generatedFile, pathOf } from './generated-files.ts';

/** The YAML between the hyphens, read by the other parser, every value as text. */
function dataOf(text: string): Record<string, unknown> {
  const yaml = /^---\r?\n([\s\S]*?\r?\n)---(?:\r?\n|$)/.exec(text)?.[1] ?? '';
  return parse(yaml, { schema: 'failsafe' }) ?? {};
}

const valueAt = (data: unknown, path: readonly (string | number)[]): unknown =>
  path.reduce<unknown>((at, part) => (at as Record<string | number, unknown> | undefined)?.[part], data);

const linesOf = (text: string): string[] => text.split(/(?<=\n)/);

/** True where every one of `some` comes in `all`, in the same order. */
function inOrder(some: readonly string[], all: readonly string[]): boolean {
  let from = 0;
  return some.every((line) => {
    const at = all.indexOf(line, from);
    from = at + 1;
    return at >= 0;
  });
}

/** What no edit may touch: the comments, the notes, and which line ends there are. */
const aroundOf = (text: string) => [
  [...text.matchAll(/(?<=\s)# (?:as the eye|\{ at|tab|at the|odd|the end)[^\r\n]*/g)].map(String),
  text.slice(text.search(/\n---(\r?\n|$)/)),
  /(?<!\r)\n/.test(text),
];

const RUNS = 100;

describe('readings written into a file', () => {
  it(`change nothing else in ${RUNS} generated files`, () => {
    let ran = 0;
    fc.assert(
      fc.property(generatedFile, generatedChanges, ({ text }, { changes, newRow, note }) => {
        ran++;
        const rows =
          (valueAt(dataOf(text), ['readings', 'fermentation']) as unknown[] | undefined)?.length ?? 0;
        const all: ReadingChange[] = changes.map(({ key, value }) => ({ path: pathOf(key), value }));
        if (newRow) {
          all.push({ path: ['fermentation', rows, 'on'], value: '2026-02-20 07:00' });
          all.push({ path: ['fermentation', rows, 'note'], value: note });
        }
        const edited = editReadings(text, all);
        expect(edited.ok).toBe(true);
        if (!edited.ok) return;
        const [before, after] = [dataOf(text), dataOf(edited.text)];
        for (const { path, value } of all) {
          // `null` written plain would be no text.
          expect(valueAt(after, ['readings', ...path])).toBe(value);
        }
        // Everything that was not asked for is still there, and nothing else has come in.
        expect(leaves(after, all)).toEqual(leaves(before, all));
        // Every line of the old file that holds none of the changed values stands in the new one, in its place.
        const names = all.map(({ path }) => String(path[0]));
        const untouched = linesOf(text).filter(
          (line) => !names.some((name) => line.includes(name)) && !mayChange(line),
        );
        expect(inOrder(untouched, linesOf(edited.text))).toBe(true);
        expect(aroundOf(edited.text)).toEqual(aroundOf(text));
      }),
      { numRuns: RUNS },
    );
    expect(ran).toBe(RUNS);
  });
});

/** Lines of a group in block style whose single values may be among the changes. */
const mayChange = (line: string): boolean => /^\s*(?:- )?(?:at|temperature|volume|on|yeast):/.test(line);

/** Every value by its path, but for those that were changed. */
function leaves(data: unknown, changes: readonly ReadingChange[]): Record<string, unknown> {
  const changed = changes.map(({ path }) => JSON.stringify(['readings', ...path]));
  const found: Record<string, unknown> = {};
  const visit = (value: unknown, path: readonly (string | number)[]): void => {
    if (typeof value === 'object' && value !== null) {
      for (const [key, item] of Object.entries(value)) {
        visit(item, [...path, Array.isArray(value) ? Number(key) : key]);
      }
      return;
    }
    const name = JSON.stringify(path);
    // A word such as `not taken` gives way to the group whose part was keyed in.
    const replaced = changed.some((other) => other.startsWith(`${name.slice(0, -1)},`));
    if (!changed.includes(name) && !replaced) found[name] = value;
  };
  visit(data, []);
  return found;
}

describe('a file that cannot be edited safely', () => {
  const file = (readings: string) => `---\ntitle: A\n${readings}---\n`;
  it.each([
    ['an alias', file('x: &a { at: 16:40 }\nreadings:\n  chilled: *a\n'), ['chilled', 'at']],
    [
      'an anchor that something else follows',
      file('readings:\n  boil_started: &t 14:50\n  boil_ended: *t\n'),
      ['boil_started'],
    ],
    [
      'a key that stands twice',
      file('readings:\n  boil_started: 14:50\n  boil_started: 14:51\n'),
      ['boil_started'],
    ],
    ['a syntax error', file('readings:\n  boil_started: "14:50\n'), ['boil_started']],
    ['no frontmatter', '# Notes\n', ['boil_started']],
    ['a row beyond the end', file('readings:\n  fermentation: []\n'), ['fermentation', 2, 'on']],
  ])('for %s is refused', (_, text, path) => {
    expect(editReadings(text, [{ path, value: '15:00' }]).ok).toBe(false);
  });
});

describe('forms that are written by hand', () => {
  it.each([
    [
      'no readings yet: a block at the end of the frontmatter',
      '---\ntitle: A\n# end\n---\nnotes\n',
      {
        original_gravity: '1.049 @ 24 °C',
        boil_started: '14:50',
        'chilled.temperature': '24 °C',
        'chilled.at': '16:40',
      },
      '---\ntitle: A\n# end\nreadings:\n  boil_started: 14:50\n  chilled: { at: 16:40, temperature: 24 °C }\n  original_gravity: 1.049 @ 24 °C\n---\nnotes\n',
    ],
    [
      'an empty key with a comment',
      '---\ntitle: A\nreadings:   # from the sheets\n---\n',
      { boil_started: '14:50' },
      '---\ntitle: A\nreadings:   # from the sheets\n  boil_started: 14:50\n---\n',
    ],
    [
      'braces, edited inside',
      '---\nreadings: { chilled: {at: 16:40} , boil_ended: 15:55 }\n---\n',
      { 'chilled.temperature': '24 °C', boil_started: '14:50' },
      '---\nreadings: { boil_started: 14:50, chilled: {at: 16:40, temperature: 24 °C} , boil_ended: 15:55 }\n---\n',
    ],
    [
      'one packaging that becomes two',
      '---\nreadings:\n  packaged: { on: 2026-03-01, volume: 9 L } # bottles\n---\n',
      { 'packaged[1].on': '2026-03-02' },
      '---\nreadings:\n  packaged: [ { on: 2026-03-01, volume: 9 L }, { on: 2026-03-02 } ] # bottles\n---\n',
    ],
    [
      'one packaging on lines of its own that becomes two',
      '---\nreadings:\n  packaged:\n    on: 2026-03-01\n    # by eye\n    volume: 9 L\n---\n',
      { 'packaged[1].on': '2026-03-02' },
      '---\nreadings:\n  packaged:\n    - on: 2026-03-01\n      # by eye\n      volume: 9 L\n    - { on: 2026-03-02 }\n---\n',
    ],
    [
      'a note in a block of its own',
      '---\nreadings:\n  tasted:\n    - on: 2026-03-24\n      note: |\n        two\n        lines\n      score: 4\n---\n',
      { 'tasted[0].note': 'one line' },
      '---\nreadings:\n  tasted:\n    - on: 2026-03-24\n      note: one line\n      score: 4\n---\n',
    ],
  ] as const)('%s', (_, text, changes, expected) => {
    const all = Object.entries(changes).map(([key, value]) => ({ path: pathOf(key), value }));
    expect(editReadings(text, all)).toEqual({ ok: true, text: expected });
  });
});

/** Data without some values, and without groups and lists that have nothing left in them. */
function pruned(data: unknown, gone: ReadonlySet<string>, path: readonly (string | number)[] = []): unknown {
  if (typeof data !== 'object' || data === null) return gone.has(JSON.stringify(path)) ? undefined : data;
  const touched = [...gone].some((each) => each.startsWith(JSON.stringify(path).slice(0, -1)));
  const kept = Object.entries(data).flatMap(([key, value]) => {
    const left = pruned(value, gone, [...path, Array.isArray(data) ? Number(key) : key]);
    return left === undefined ? [] : [[key, left] as const];
  });
  if (touched && kept.length === 0 && Object.keys(data).length > 0 && path.length > 0) return undefined;
  return Array.isArray(data) ? kept.map(([, value]) => value) : Object.fromEntries(kept);
}

/** True where one text is left of another after some of it has been taken out. */
function isLeftOf(left: string, text: string): boolean {
  let at = -1;
  return [...left].every((sign) => {
    at = text.indexOf(sign, at + 1);
    return at >= 0;
  });
}

const removed = (text: string, paths: readonly KeyPath[]) =>
  editReadings(
    text,
    paths.map((path) => ({ path, value: null })),
  );

const generatedRemoval = generatedFile.chain((file) =>
  fc.record({ file: fc.constant(file), gone: fc.subarray([...file.keys]) }),
);

describe('readings taken out of a file', () => {
  it(`go with their key, and nothing else goes, in ${RUNS} generated files`, () => {
    const left = (text: string, paths: readonly (readonly (string | number)[])[]) =>
      pruned(dataOf(text), new Set(paths.map((path) => JSON.stringify(['readings', ...path])))) as Record<
        string,
        unknown
      >;
    fc.assert(
      fc.property(generatedRemoval, ({ file: { text }, gone }) => {
        const paths = gone.map(pathOf);
        const edited = removed(text, paths);
        expect(edited.ok).toBe(true);
        if (!edited.ok) return;
        expect(dataOf(edited.text)).toEqual(left(text, paths));
        // Bytes are taken out, none comes in and none changes its place.
        expect(isLeftOf(edited.text, text)).toBe(true);
        if (gone.length === 0) expect(edited.text).toBe(text);
        const parts = new Set(paths.flat().map(String));
        const untouched = linesOf(text).filter(
          (line) =>
            ![...parts].some((name) => line.includes(name)) &&
            !mayChange(line) &&
            !/readings:|note:|\{/.test(line),
        );
        expect(inOrder(untouched, linesOf(edited.text))).toBe(true);
        expect(aroundOf(edited.text)).toEqual(aroundOf(text));
      }),
      { numRuns: RUNS },
    );
    // Some of the files have lost all that was keyed in, and the key above it with it.
    const emptied = fc
      .sample(generatedRemoval, { numRuns: RUNS, seed: 1 })
      .filter(
        ({ file, gone }) => gone.length > 0 && left(file.text, gone.map(pathOf)).readings === undefined,
      );
    expect(emptied.length).toBeGreaterThan(0);
  });

  it('that were keyed in a moment ago leave the bytes that were there before', () => {
    fc.assert(
      fc.property(generatedFile, generatedChanges, ({ text, keys }, { changes, newRow }) => {
        const data = dataOf(text);
        const rows = (valueAt(data, ['readings', 'fermentation']) as unknown[] | undefined)?.length ?? 0;
        const fresh = changes
          .filter(({ key }) => !keys.includes(key))
          .filter(({ key }) => valueAt(data, ['readings', pathOf(key)[0] ?? '']) !== 'not taken');
        const all: ReadingChange[] = fresh.map(({ key, value }) => ({ path: pathOf(key), value }));
        if (newRow && rows > 0) all.push({ path: ['fermentation', rows, 'on'], value: '2026-02-20 07:00' });
        const once = editReadings(text, all);
        const paths = all.map(({ path }) => path);
        expect(once.ok && removed(once.text, paths)).toEqual({ ok: true, text });
      }),
      { numRuns: RUNS },
    );
  });

  it.each([
    [
      'beside a comment, which stays',
      'readings:\n  boil_started: 14:50 # by the radio\n  boil_ended: 15:50\n',
      ['boil_started'],
      'readings:\n  # by the radio\n  boil_ended: 15:50\n',
    ],
    ['as the only one, with all above it', 'readings:\n  chilled: { at: 16:40 }\n', ['chilled.at'], ''],
    [
      'as the last of a group on lines of its own',
      'readings:\n  chilled:   # in the sink\n    # odd\n    at: 16:40\n\n  boil_ended: 15:50\n',
      ['chilled.at'],
      'readings:\n  # in the sink\n    # odd\n\n  boil_ended: 15:50\n',
    ],
    [
      'from braces, first, last and in the middle',
      'readings:\n  pitched: {on: 2026-02-14 , temperature: 19 °C, yeast: 11 g }\n  top_up: { volume: 1 L, temperature: 9 °C }\n',
      ['pitched.temperature', 'top_up.volume'],
      'readings:\n  pitched: {on: 2026-02-14, yeast: 11 g }\n  top_up: { temperature: 9 °C }\n',
    ],
    [
      'from braces over several lines with comments between',
      'readings:\n  chilled: { at: 16:40, # sink\n             temperature: 24 °C }\n',
      ['chilled.at'],
      'readings:\n  chilled: {  # sink\n             temperature: 24 °C }\n',
    ],
    [
      'behind a hyphen',
      'readings:\n  tasted:\n    - on: 2026-03-24\n      score: 4\n',
      ['tasted[0].on'],
      'readings:\n  tasted:\n    - score: 4\n',
    ],
    [
      'behind a hyphen, with a comment',
      'readings:\n  tasted:\n    - on: 2026-03-24 # a Tuesday\n      score: 4\n',
      ['tasted[0].on'],
      'readings:\n  tasted:\n    - # a Tuesday\n      score: 4\n',
    ],
    [
      'a whole row, and the rows around it stay',
      'readings:\n  fermentation:\n  - { on: 2026-02-18, note: a }\n  - on: 2026-02-19 # b\n    note: |\n      two\n\n      lines\n  - { on: 2026-02-20 }\n',
      ['fermentation[1].on', 'fermentation[1].note'],
      'readings:\n  fermentation:\n  - { on: 2026-02-18, note: a }\n  # b\n  - { on: 2026-02-20 }\n',
    ],
    [
      'two rows of three',
      'readings:\n  fermentation: [ { on: 2026-02-18 }, { on: 2026-02-19 }, { on: 2026-02-20 } ]\n',
      ['fermentation[0].on', 'fermentation[2].on'],
      'readings:\n  fermentation: [ { on: 2026-02-19 } ]\n',
    ],
    [
      'the one packaging',
      'readings:\n  packaged: { on: 2026-03-01, into: keg }\n  final_gravity: 1.010\n',
      ['packaged[0].on', 'packaged[0].into'],
      'readings:\n  final_gravity: 1.010\n',
    ],
    [
      'that are not there',
      'readings:\n  boil_ended: 15:50\n',
      ['boil_started', 'chilled.at', 'fermentation[2].on'],
      'readings:\n  boil_ended: 15:50\n',
    ],
  ] as const)('%s', (_, readings, keys, expected) => {
    const file = (text: string) => `---\ntitle: A\n${text}---\nnotes\n`;
    expect(removed(file(readings), keys.map(pathOf))).toEqual({ ok: true, text: file(expected) });
  });

  it('where that cannot be done safely, stay', () => {
    const text = '---\nx: &a { at: 16:40, temperature: 9 °C }\nreadings:\n  chilled: *a\n---\n';
    expect(editReadings(text, [{ path: ['chilled', 'at'], value: null }]).ok).toBe(false);
    const anchored = '---\nreadings:\n  boil_started: &t 14:50\n  boil_ended: *t\n---\n';
    expect(editReadings(anchored, [{ path: ['boil_started'], value: null }]).ok).toBe(false);
  });
});
