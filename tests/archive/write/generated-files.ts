/** Batch files as people write them: any style of YAML, comments, quotes, line ends, orders and gaps. */
import fc from 'fast-check';

export interface Generated {
  readonly text: string;
  /** `original_gravity`, `chilled.at`, `fermentation[1].gravity`: what is there. */
  readonly keys: readonly string[];
}

const SCALARS: Readonly<Record<string, readonly string[]>> = {
  heating_started: ['13:35', '9:05'],
  steep_temperature: ['67 °C', '153 °F'],
  boil_started: ['14:50', 'not taken'],
  boil_start_volume: ['10.8 L', '"10,8 L"'],
  boil_start_gravity: ['1.042 @ 45 °C', "'11.8 Bx'"],
  boil_ended: ['15:55'],
  boil_end_volume: ['9.7 L @ 60 °C', ''],
  original_gravity: ['1.044 @ 24 °C', '"1.044"'],
  fermenter_volume: ['19 L'],
  warmest_after: ['20 °C'],
  final_gravity: ['0.998 @ 19 °C', 'not taken'],
};
type Pairs = readonly (readonly [key: string, value: string])[];
const GROUPS: Readonly<Record<string, Pairs>> = {
  chilled: Object.entries({ at: '16:40', temperature: '24 °C' }),
  top_up: Object.entries({ volume: '10.5 L', temperature: '"9 °C"' }),
  pitched: Object.entries({ on: '2026-02-14 17:20', temperature: '19 °C', yeast: '11 g' }),
};
const ROW = Object.entries({
  on: '2026-02-18 08:00',
  gravity: '1.019 @ 20 °C',
  note: '"krausen, falling: slowly # not a comment"',
});

const comment = fc.constantFrom('', '', '', '  # as the eye reads it', ' # { at: 1, "x" }', '\t# tab before');
const above = fc.constantFrom('', '', '', '# at the sink\n', '\n', '# odd: { comment\n\n');

const lines = (pairs: Pairs, indent: string, comments: readonly string[]) =>
  pairs.map(([key, value], i) => `${indent}${key}: ${value}${comments[i] ?? ''}\n`).join('');

function inBraces(pairs: Pairs, tight: boolean): string {
  const parts = pairs.map(([key, value]) => `${key}: ${value}`);
  return tight ? `{${parts.join(',')}}` : `{ ${parts.join(' , ')} }`;
}

/** The text of one key of the readings, indented, and the blanks that it fills. */
function entry(key: string, indent: string): fc.Arbitrary<Generated> {
  const scalar = SCALARS[key];
  if (scalar !== undefined) {
    return fc
      .record({ value: fc.constantFrom(...scalar), over: above, behind: comment })
      .map(({ value, over, behind }) => ({
        text: `${indented(over, indent)}${indent}${key}: ${value}${behind}\n`,
        keys: [key],
      }));
  }
  const group = GROUPS[key];
  if (group !== undefined) {
    return fc
      .record({
        pairs: fc.subarray([...group], { minLength: 1 }),
        style: fc.constantFrom('block', 'braces', 'tight', 'word'),
        over: above,
        behind: fc.array(comment, { minLength: 4, maxLength: 4 }),
      })
      .map(({ pairs, style, over, behind }) => {
        const [first = ''] = behind;
        const value =
          style === 'block'
            ? `${first}\n${lines(pairs, `${indent}   `, behind.slice(1))}`
            : ` ${style === 'word' ? 'not taken' : inBraces(pairs, style === 'tight')}${first}\n`;
        return {
          text: `${indented(over, indent)}${indent}${key}:${value}`,
          keys: style === 'word' ? [] : pairs.map(([name]) => `${key}.${name}`),
        };
      });
  }
  return fc
    .record({
      rows: fc.array(fc.record({ pairs: fc.subarray([...ROW], { minLength: 1 }), block: fc.boolean() }), {
        minLength: 1,
        maxLength: 3,
      }),
      style: fc.constantFrom('lines', 'margin', 'brackets'),
      over: above,
      behind: comment,
    })
    .map(({ rows, style, over, behind }) => {
      const hang = style === 'margin' ? indent : `${indent}  `;
      const items = rows.map(({ pairs, block }) =>
        block
          ? `${hang}- ${lines(pairs, `${hang}  `, []).trimStart()}`
          : `${hang}- ${inBraces(pairs, false)}${behind}\n`,
      );
      const list =
        style === 'brackets'
          ? ` [ ${rows.map(({ pairs }) => inBraces(pairs, false)).join(', ')} ]${behind}\n`
          : `\n${items.join('')}`;
      return {
        text: `${indented(over, indent)}${indent}${key}:${list}`,
        keys: rows.flatMap(({ pairs }, i) => pairs.map(([name]) => `${key}[${i}].${name}`)),
      };
    });
}

const indented = (text: string, indent: string): string =>
  text
    .split(/(?<=\n)/)
    .map((line) => (line.startsWith('#') ? indent + line : line))
    .join('');

const HEADS = [
  'title: Harbour Lantern # twelfth\ntags: [ a,b ]\n',
  'private: |\n  what it cost\n\n  readings: none\ntitle: "x"\n',
];
const TAILS = ['', '', 'style: Brown ale\n', '# the end\n', 'kept:\n- a\n'];
const NOTES = ['', 'Notes.\n', '\nreadings:\n  boil_started: 1\n---\n| a |\n', 'no line end'];

/** One batch file; the recipe is left out, since only the readings are edited. */
export const generatedFile: fc.Arbitrary<Generated> = fc
  .record({
    keys: fc.shuffledSubarray([...Object.keys(SCALARS), ...Object.keys(GROUPS), 'fermentation']),
    indent: fc.constantFrom('  ', ' ', '    '),
    head: fc.constantFrom(...HEADS),
    tail: fc.constantFrom(...TAILS),
    notes: fc.constantFrom(...NOTES),
    behind: comment,
    windows: fc.boolean(),
  })
  .chain(({ keys, indent, head, tail, notes, behind, windows }) =>
    fc.tuple(...keys.map((key) => entry(key, indent))).map((entries) => {
      const body = entries.map(({ text }) => text).join('');
      const readings = entries.length === 0 ? '' : `readings:${behind}\n${body}`;
      const text = `---\n${head}${readings}${tail}---\n${notes}`;
      return {
        text: windows ? text.replaceAll('\n', '\r\n') : text,
        keys: entries.flatMap((each) => each.keys),
      };
    }),
  );

const VALUE = fc.constantFrom(
  '1.050 @ 60 °C',
  '0.998 @ 19 °C',
  '13:07',
  'not taken',
  'a note, with: "quotes" # and \'more\' {of} [it]',
  'null',
  'yes',
  '- 3',
  'Ünïcode ✓ 🍺',
  '2026-03-01',
);

/** Some blanks and what is keyed into them, rows of the log in order. */
export const generatedChanges = fc
  .record({
    single: fc.uniqueArray(
      fc.constantFrom(
        ...Object.keys(SCALARS),
        ...Object.entries(GROUPS).flatMap(([key, pairs]) => pairs.map(([name]) => `${key}.${name}`)),
      ),
      { maxLength: 6 },
    ),
    values: fc.array(VALUE, { minLength: 12, maxLength: 12 }),
    newRow: fc.boolean(),
  })
  .map(({ single, values, newRow }) => ({
    changes: single.map((key, i) => ({ key, value: values[i] ?? 'x' })),
    newRow,
    note: values.at(-1) ?? 'x',
  }));

/** `fermentation[0].on` as a path. */
export const pathOf = (key: string): (string | number)[] =>
  key.split(/\[|\]\.|\./).map((part) => (/^\d+$/.test(part) ? Number(part) : part));
