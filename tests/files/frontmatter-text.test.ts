import { describe, expect, it } from 'vitest';
import { splitFrontmatter } from '../../lib/files/frontmatter.ts';
import { spliceScalar, stripReadings } from '../../lib/files/frontmatter-text.ts';

const HEAD = '---\ntitle: A batch # the second\nrecipe:\n  boil:   60 min\n';
const READINGS =
  'readings:   # from the sheet\n  boil_started: 14:50\n\n  # at the sink\n  tasted:\n  - { on: 2026-03-24 }\n';
const NOTES = '---\n# Notes\nreadings: this is no key\n---\n';

describe('stripReadings', () => {
  it.each([
    ['at the end', HEAD + READINGS + NOTES, HEAD + NOTES],
    [
      'before another key, whose comment stays',
      `${HEAD}${READINGS}\n# a tag\ntags: [a]\n${NOTES}`,
      `${HEAD}\n# a tag\ntags: [a]\n${NOTES}`,
    ],
    ['in braces', `${HEAD}readings: { boil_started: 14:50,\n  tasted: [] }\n${NOTES}`, HEAD + NOTES],
    [
      'as a closing brace alone on its line',
      `${HEAD}readings: {\n  boil_started: 14:50\n}\n${NOTES}`,
      HEAD + NOTES,
    ],
    ['left empty', `${HEAD}readings:\n${NOTES}`, HEAD + NOTES],
    [
      'with a list at the margin',
      `${HEAD}readings:\n  tasted:\n  - { on: 2026-03-24 }\n${NOTES}`,
      HEAD + NOTES,
    ],
  ])('takes out readings %s and keeps every other byte', (_, text, expected) => {
    expect(stripReadings(text)).toBe(expected);
    const crlf = (lines: string) => lines.replaceAll('\n', '\r\n');
    expect(stripReadings(crlf(text))).toBe(crlf(expected));
  });

  it.each([
    ['no readings', HEAD + NOTES],
    ['no frontmatter', '# Notes\n'],
    ['broken frontmatter', `---\ntitle: "open\n${READINGS}${NOTES}`],
    ['readings in the recipe only', `---\nrecipe:\n  readings: 1\n${NOTES}`],
  ])('leaves a text with %s alone', (_, text) => expect(stripReadings(text)).toBe(text));
});

describe('spliceScalar', () => {
  const text = HEAD + READINGS + NOTES;
  it.each([
    ['boil:   60 min', ['recipe', 'boil'], '90 min', 'boil:   90 min'],
    ['title: A batch #', ['title'], 'Porter: the second', 'title: "Porter: the second" #'],
    ['on: 2026-03-24 }', ['readings', 'tasted', 0, 'on'], '2026-03-25 18:00', 'on: 2026-03-25 18:00 }'],
    ['boil_started: 14:50', ['readings', 'boil_started'], 'not taken', 'boil_started: not taken'],
  ] as const)('changes only the value in %j', (before, path, value, after) => {
    expect(spliceScalar(text, path, value)).toBe(text.replace(before, after));
  });

  it('fills an empty value with a space before it', () => {
    expect(spliceScalar('---\ntitle:\nstart: 13:30\n---\n', ['title'], 'New')).toBe(
      '---\ntitle: New\nstart: 13:30\n---\n',
    );
  });

  it.each([[['nothing']], [['recipe']], [['readings', 'tasted']]])('says null for %j', (path) => {
    expect(spliceScalar(text, path, 'x')).toBeNull();
  });
});

it('a file whose lines end with a carriage return alone is refused, not run as another language', () => {
  const split = splitFrontmatter('---\rtitle: A\r---\nnotes\n---\n');
  expect(split).toMatchObject({ ok: false, problem: { code: 'frontmatter-unclosed', offset: 3 } });
});
