import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDocument } from 'yaml';
import { splitFrontmatter } from '../../../lib/archive/yaml/frontmatter.ts';
import { readYaml } from '../../../lib/archive/yaml/read.ts';

const root = join(import.meta.dirname, '../../..');

/** The same dialect by the other parser: every scalar as text, YAML 1.2 core nulls as null. */
function byOtherParser(text: string): unknown {
  const document = parseDocument(text, {
    schema: 'failsafe',
    customTags: (tags) => [...tags, 'null'],
    uniqueKeys: true,
    logLevel: 'silent',
  });
  if (document.errors.length > 0) throw document.errors[0];
  return document.toJS({ maxAliasCount: 1000 });
}

const ONE_BY_ONE = [
  'gravity: 1.050',
  'a: 1_000\nb: 010\nc: 0x1F\nd: 1e3\ne: .5\nf: +1\ng: .inf\nh: .NaN',
  'start: 13:30\nodd: 1:30\nbrewed: 2026-02-14\nboth: 2026-02-14 17:20',
  'a: yes\nb: no\nc: on\nd: off\ne: y\nf: True\ng: FALSE',
  'a:\nb: ~\nc: null\nd: Null\ne: "null"\nf: ""',
  'a: "1,5 kg"\nb: \'it\'\'s\'\nc: "\\u00b0C \\n x"',
  'a: |\n  one\n  two\n\nb: >\n  folded\n  text\n\n  next\nc: |-\n  bare\nd: |+\n  kept\n\n',
  'list:\n- a\n- b: 1\n  c: 2\n-\n  - nested\n',
  'flow: { a: 68 °C, b: [1, 2, { c: d }], "e": f, g: }',
  'recipe:\n  steep: { temperature: 68 °C, time: 20 min } # a comment\n  # another\n  boil: 60 min',
  'plain: several words\n  that go on\n  here',
  'a: &x { b: 1 }\nc: *x',
  '<<: { a: 1 }\nb: 2',
  'a: x#y # z\nb: "x # y"',
  'a: {b: c}\r\nd:\r\n  - e\r\n',
  '? a\n: b\n',
  '"quoted key": 1\n\'other\': 2',
  'url: https://brewery.example/a?b=c\ntime: a:b',
  'minus: -1 °C\nq: ?x\ncolon: :x',
  'été: ñ\n麦: 酒\nemoji: 🍺',
  '- a\n- b',
  'just text',
];

function everyFile(): [string, string][] {
  const tables = readdirSync(join(root, 'shared')).filter((name) => name.endsWith('.yaml'));
  const golden = join(root, 'tests/archive/schema/golden/broken/batches');
  const batches = readdirSync(golden).filter((name) => !/^(yaml|frontmatter)-/.test(name));
  return [
    ...tables.map((name): [string, string] => [name, readFileSync(join(root, 'shared', name), 'utf8')]),
    ...batches.flatMap((name): [string, string][] => {
      const split = splitFrontmatter(readFileSync(join(golden, name), 'utf8'));
      return split.ok && name !== 'alias-bomb.md' ? [[name, split.yaml]] : [];
    }),
  ];
}

describe('both YAML parsers read the same', () => {
  it.each(ONE_BY_ONE)('%j', (text) => {
    expect(readYaml(text)).toEqual({ ok: true, value: byOtherParser(text) });
  });

  const files = everyFile();
  it('over enough files', () => expect(files.length).toBeGreaterThan(35));
  it.each(files)('%s', (_, text) => {
    expect(readYaml(text)).toEqual({ ok: true, value: byOtherParser(text) });
  });

  it('whatever words a brewer puts behind a key', () => {
    const words = fc.stringMatching(/^[A-Za-z0-9°%.,:;@±–½ ()/'"#&*!?|<>=+-]{0,30}$/);
    fc.assert(
      fc.property(fc.array(words, { maxLength: 4 }), (values) => {
        const text = values.map((value, index) => `key_${index}: ${value}`).join('\n');
        const own = readYaml(text);
        let other: unknown;
        try {
          other = byOtherParser(text);
        } catch {
          return;
        }
        // One parser may be stricter, but where both read a text they must read the same.
        if (own.ok) expect(own.value).toEqual(other);
      }),
      { numRuns: 2000 },
    );
  });
});
