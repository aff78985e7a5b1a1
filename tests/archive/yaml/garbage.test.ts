import fc from 'fast-check';
import { expect, it } from 'vitest';
import { checkBatch } from '../../../lib/archive/schema/check-batch.ts';
import { tablesOf } from '../../../lib/archive/schema/names.ts';
import { splitFrontmatter } from '../../../lib/archive/yaml/frontmatter.ts';
import { readYamlWithProblems } from '../../../lib/archive/yaml/problems.ts';

const around = { units: 'metric', setups: new Map(), tables: tablesOf([]) } as const;
const yamlish = fc.array(
  fc.constantFrom(
    ...[
      'a',
      'title',
      'recipe',
      'hops',
      'readings',
      '1',
      '°C',
      '---',
      '...',
      '<<',
      '  ',
      '- ',
      ': ',
      '\n',
      '\t',
    ],
    ...':{}[],"\'#!|>?%@`',
    ...['&a', '*a'],
  ),
  { maxLength: 40 },
);

it('no text whatever makes the reader throw, and what it refuses it explains', () => {
  fc.assert(
    fc.property(
      fc.oneof(
        yamlish.map((parts) => parts.join('')),
        fc.string({ unit: 'binary' }),
      ),
      (text) => {
        const split = splitFrontmatter(`---\n${text}\n---\n`);
        const yaml = split.ok ? split.yaml : text;
        const read = readYamlWithProblems(yaml);
        expect(read.value !== undefined || read.problems.length > 0).toBe(true);
        for (const problem of read.problems) {
          expect(problem.offset).toBeGreaterThanOrEqual(0);
          expect(problem.offset).toBeLessThanOrEqual(yaml.length);
          expect(problem.found !== '' && problem.expected !== '' && problem.mend !== '').toBe(true);
        }
        const { value } = read;
        if (typeof value !== 'object' || value === null || Array.isArray(value)) return;
        const checked = checkBatch('x', value as Record<string, unknown>, '', around);
        expect(checked.batch).toBeNull();
        expect(checked.problems.length).toBeGreaterThan(0);
      },
    ),
    { numRuns: 600 },
  );
});

it('no value in place of any key makes the schema throw', () => {
  const keys = 'title number setup tags publish recipe readings start package hops stand'.split(' ');
  const value = fc.letrec((tie) => ({
    any: fc.oneof(
      { depthSize: 'small' },
      fc.constant(null),
      fc.string(),
      fc.constantFrom('19 L', '60 min', 'not taken', '1.050', '5 %'),
      fc.array(tie('any'), { maxLength: 3 }),
      fc.dictionary(
        fc.constantFrom(...keys, 'into_fermenter', 'boil', 'name', 'weight', 'add', '5 kg'),
        tie('any'),
      ),
    ),
  })).any;
  fc.assert(
    fc.property(fc.dictionary(fc.constantFrom(...keys), value), (raw) => {
      const { batch, problems } = checkBatch('x', raw, '', around);
      expect(batch).toBeNull();
      for (const problem of problems) expect(problem.path.every((part) => part !== undefined)).toBe(true);
    }),
    { numRuns: 500 },
  );
});
