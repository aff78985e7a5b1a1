import matter from 'gray-matter';
import { fileProblem } from '../codes.ts';
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

const refuse = (problem: TextProblem): Split => ({ ok: false, problem });

const neverRun = () => {
  throw new Error('frontmatter is data');
};

/** Splits a batch file; frontmatter in any other language than YAML is refused, never run. */
export function splitFrontmatter(text: string): Split {
  const opening = OPENING.exec(text);
  if (opening === null) {
    const [line = ''] = text.slice(0, 80).split(/[\r\n]/, 1);
    const facts = text === '' ? {} : { line: quoted(line) };
    return refuse(fileProblem('frontmatter-missing', 0, facts));
  }
  if (opening[2] === '\r') {
    const problem = fileProblem('frontmatter-unclosed', opening[0].length - 1, {
      found: 'a line that ends with a carriage return alone',
      expected: 'lines that end with a line feed, alone or after a carriage return',
      mend: 'save the file again from your editor with line ends as Windows or Unix write them',
    });
    return refuse(problem);
  }
  const language = (opening[1] ?? '').trim();
  if (language !== '' && !/^ya?ml$/i.test(language))
    return refuse(fileProblem('frontmatter-not-yaml', 3, { language: quoted(language) }));
  const start = opening[0].length - (opening[2] ?? '').length;
  CLOSING.lastIndex = start;
  const closing = CLOSING.exec(text);
  if (closing === null)
    return refuse(fileProblem('frontmatter-unclosed', 0, { found: 'no line that closes it' }));
  if ((closing[1] ?? '').trim() !== '') {
    const facts = { found: quoted(`---${closing[1]}`) };
    return refuse(fileProblem('frontmatter-unclosed', closing.index + 1, facts));
  }
  const blank = BLANK_LINES.exec(text.slice(start, closing.index + 1));
  if (blank !== null) {
    const problem = fileProblem('yaml-too-large', start + blank.index, {
      found: 'hundreds of blank lines in a row',
      expected: 'frontmatter of some hundred lines',
      mend: 'remove the blank lines',
    });
    return refuse(problem);
  }
  const engine = { parse: () => ({}), stringify: neverRun };
  const never = { parse: neverRun };
  // An options object also keeps gray-matter from its cache.
  const file = matter(text, {
    language: 'yaml',
    delimiters: ['---', '---'],
    engines: {
      yaml: engine,
      yml: engine,
      javascript: never,
      js: never,
      json: never,
      coffee: never,
      toml: never,
    },
  });
  const yaml = text.slice(start, closing.index + 1);
  return { ok: true, yaml, start, notes: file.content.replace(/^[ \t]*(?=\r?\n|$)\r?\n?/, '') };
}
