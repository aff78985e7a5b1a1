import matter from 'gray-matter';
import { quoted } from '../schema/value-fault.ts';
import type { TextProblem } from './located.ts';

/**
 * The YAML of a batch file and the Markdown below it. The YAML begins right after the three hyphens of the first
 * line, so that its lines are those of the whole file, and ends with the line break before the closing hyphens.
 */
export type Split =
  | { readonly ok: true; readonly yaml: string; readonly start: number; readonly notes: string }
  | { readonly ok: false; readonly problem: TextProblem };

const OPENING = /^\ufeff?---(?!-)([^\r\n]*)(\r\n|\n|\r|$)/;
const CLOSING = /(?:^|\n)---([^\r\n]*)(?=\r?\n|$)/g;
/** gray-matter looks for a comment from every blank line on, which takes the square of their number. */
const BLANK_LINES = /^(?:[^\S\n\r\u2028\u2029]*[\n\r\u2028\u2029]){400}/m;

const refuse = (
  ...[code, offset, found, expected, mend]: [string, number, string, string, string]
): Split => ({
  ok: false,
  problem: { code, path: [], offset, found, expected, mend },
});

const neverRun = () => {
  throw new Error('frontmatter is data');
};

/** Splits a batch file; frontmatter in any other language than YAML is refused, never run. */
export function splitFrontmatter(text: string): Split {
  const opening = OPENING.exec(text);
  if (opening === null) {
    return refuse(
      'frontmatter-missing',
      0,
      text === '' ? 'an empty file' : quoted(text.slice(0, 80).split(/[\r\n]/, 1)[0] ?? ''),
      '--- alone on the first line, the keys of the batch, and --- alone on a line',
      'begin the file with a line of three hyphens',
    );
  }
  if (opening[2] === '\r') {
    return refuse(
      'frontmatter-unclosed',
      opening[0].length - 1,
      'a line that ends with a carriage return alone',
      'lines that end with a line feed, alone or after a carriage return',
      'save the file again from your editor with line ends as Windows or Unix write them',
    );
  }
  const language = (opening[1] ?? '').trim();
  if (language !== '' && !/^ya?ml$/i.test(language)) {
    return refuse(
      'frontmatter-not-yaml',
      3,
      quoted(language),
      'plain YAML: frontmatter is data, and no other language is ever run',
      'leave the three hyphens alone on the first line and write the keys as YAML',
    );
  }
  const start = opening[0].length - (opening[2] ?? '').length;
  CLOSING.lastIndex = start;
  const closing = CLOSING.exec(text);
  if (closing === null || (closing[1] ?? '').trim() !== '') {
    return refuse(
      'frontmatter-unclosed',
      closing === null ? 0 : closing.index + 1,
      closing === null ? 'no line that closes it' : quoted(`---${closing[1]}`),
      '--- alone on the line below the last key',
      'write three hyphens alone on a line between the keys and the notes',
    );
  }
  const blank = BLANK_LINES.exec(text.slice(start, closing.index + 1));
  if (blank !== null) {
    return refuse(
      'yaml-too-large',
      start + blank.index,
      'hundreds of blank lines in a row',
      'frontmatter of some hundred lines',
      'remove the blank lines',
    );
  }
  const engine = { parse: () => ({}), stringify: neverRun };
  // An options object also keeps gray-matter from its cache.
  const file = matter(text, {
    language: 'yaml',
    delimiters: ['---', '---'],
    engines: {
      yaml: engine,
      yml: engine,
      javascript: { parse: neverRun },
      js: { parse: neverRun },
      json: { parse: neverRun },
      coffee: { parse: neverRun },
      toml: { parse: neverRun },
    },
  });
  const yaml = text.slice(start, closing.index + 1);
  return { ok: true, yaml, start, notes: file.content.replace(/^[ \t]*(?=\r?\n|$)\r?\n?/, '') };
}
