import { isAlias, isCollection, isScalar, visit } from 'yaml';
import { fileProblem } from '../codes.ts';
import { quoted } from '../schema/value-fault.ts';
import { placesIn, type TextProblem } from './located.ts';
import { duplicateKeys, type Positions, positionsOf } from './positions.ts';
import { readYaml, type YamlResult } from './read.ts';

/** Beyond this the parser that knows positions is not asked: on broken text it takes the square of the length. */
const LONGEST_FOR_POSITIONS = 48 * 1024;

/** A longer list of duplicates does not help. */
const MOST_DUPLICATES = 50;

export interface YamlRead {
  /** The document as far as it can be read; undefined where nothing can. */
  readonly value: unknown;
  readonly problems: readonly TextProblem[];
}

/** Reads YAML and says in plain words what is wrong with it; offsets are those of the text. */
export function readYamlWithProblems(text: string): YamlRead {
  const quick = readYaml(text);
  if (quick.ok) return { value: quick.value, problems: [] };
  if (quick.reason === 'too large') return { value: undefined, problems: [tooLarge(quick.offset)] };
  if (text.length > LONGEST_FOR_POSITIONS) {
    return { value: undefined, problems: [translate(quick.message, quick.offset, text)] };
  }
  const positions = positionsOf(text);
  const syntax = firstError(positions, text);
  if (syntax !== null) return { value: undefined, problems: [syntax] };
  const duplicates = duplicateProblems(positions, text);
  const again = readYaml(text, true);
  if (again.ok && duplicates.length > 0) return { value: again.value, problems: duplicates };
  const rest: Extract<YamlResult, { ok: false }> = again.ok ? quick : again;
  const other =
    rest.reason === 'too large' ? tooLarge(rest.offset) : translate(rest.message, rest.offset, text);
  return { value: undefined, problems: [...duplicates, other] };
}

const tooLarge = (offset: number): TextProblem => fileProblem('yaml-too-large', offset, {});

function duplicateProblems({ document }: Positions, text: string): TextProblem[] {
  if (document === null) return [];
  const placeOf = placesIn(text);
  return duplicateKeys(document)
    .slice(0, MOST_DUPLICATES)
    .map(({ path, key, offset, firstOffset }) => {
      const facts = { key: quoted(key), first: placeOf(firstOffset).line };
      return { ...fileProblem('yaml-duplicate-key', offset, facts), path };
    });
}

/** The first slip; what a parser reports after it is mostly its echo. */
function firstError({ document }: Positions, text: string): TextProblem | null {
  if (document === null) return null;
  const [error] = document.errors;
  if (error === undefined) return firstForeign(document, text);
  const at = UNCLOSED.test(error.message) ? openingBefore(document, error.pos[0]) : error.pos[0];
  return translate(error.message, at, text, error.code);
}

/** Where the quote, brace or bracket begins that is still open at an offset. */
function openingBefore(document: NonNullable<Positions['document']>, offset: number): number {
  let opening = offset;
  visit(document, {
    Node: (_, node) => {
      const [start, end] = node.range ?? [0, 0];
      const delimited = isScalar(node) ? /^QUOTE/.test(node.type ?? '') : isCollection(node) && node.flow;
      if (delimited && start < offset && end >= offset - 1) opening = start;
    },
  });
  return opening;
}

/** The first thing that YAML allows and these files do not: a tag, a key that is no word, an alias to nothing. */
function firstForeign(document: NonNullable<Positions['document']>, text: string): TextProblem | null {
  let found: TextProblem | null = null;
  const anchors = new Set<string>();
  visit(document, {
    Node: (key, node) => {
      const offset = node.range?.[0] ?? 0;
      if (!isAlias(node) && node.anchor !== undefined) anchors.add(node.anchor);
      if (isAlias(node)) {
        if (!anchors.has(node.source)) found = aliasToNothing(offset, text);
      } else if (key === 'key' && !isScalar(node)) {
        found = fileProblem('yaml-key', offset);
      } else if (node.tag !== undefined && !OWN_TAGS.test(node.tag)) {
        const at = text.slice(0, offset).search(/![^\s,[\]{}]*\s*(&\S+\s*)?$/);
        found = fileProblem('yaml-tag', at < 0 ? offset : at, { tag: quoted(node.tag) });
      }
      return found === null ? undefined : visit.BREAK;
    },
  });
  return found;
}

/** What plain YAML gives every value by itself. */
const OWN_TAGS = /^tag:yaml\.org,2002:(str|map|seq|null)$/;

const aliasToNothing = (offset: number, text: string): TextProblem =>
  fileProblem('yaml-alias', offset, { line: quoted(lineAt(text, offset)) });

const UNCLOSED = /closing|end with a/i;

/** What a parser says, in the brewer's words. `kind` is the code of the parser with positions, if it spoke. */
function translate(message: string, at: number, text: string, kind = ''): TextProblem {
  const offset = afterIndent(text, Math.min(at, text.length));
  const written = lineAt(text, offset);
  const line = quoted(written);
  if (/tab/i.test(message) || kind === 'TAB_AS_INDENT') return fileProblem('yaml-tab', offset);
  if (kind === 'MULTIPLE_DOCS' || /single document/.test(message))
    return fileProblem('yaml-documents', Math.max(0, text.search(/^(\.\.\.|---)/m)));
  if (/duplicat/i.test(message)) return fileProblem('yaml-duplicate-key', offset, { key: line });
  if (/alias/i.test(message)) return aliasToNothing(offset, text);
  const dash = UNCLOSED.test(message) ? null : noDash(text, offset);
  if (dash !== null) return dash;
  if (kind === 'BLOCK_AS_IMPLICIT_KEY') return fileProblem('yaml-colon-in-value', offset, { line });
  if (kind === 'BAD_SCALAR_START') return fileProblem('yaml-reserved', offset, { line });
  if (UNCLOSED.test(message) || /unexpected end of the stream within/i.test(message))
    return unclosed(message, offset);
  const needsColon = /implicit|map value|expected ':'|end of the stream or a document/i;
  if (needsColon.test(message) || kind === 'MISSING_CHAR') {
    const [, key, value] = /^\s*(?:- )?([A-Za-z_]+):(\S.*)$/.exec(written) ?? [];
    return key === undefined
      ? fileProblem('yaml-no-colon', offset, { line })
      : fileProblem('yaml-no-space', offset, { line, key, value });
  }
  const isIndent = kind === 'BAD_INDENT' || /indent/i.test(message);
  return fileProblem(isIndent ? 'yaml-indent' : 'yaml-syntax', offset, { line });
}

function unclosed(message: string, offset: number): TextProblem {
  const double = /double|"/.test(message);
  const [what = '', mark = ''] = /quote/.test(message)
    ? ['a quoted value', double ? '"' : "'"]
    : /map|\}/.test(message)
      ? ['a group in braces', '}']
      : ['a list or group in brackets', ']'];
  return fileProblem('yaml-unclosed', offset, { what, mark });
}

/** An item of a list without its hyphen: the line itself, or the one above it where only the later ones have theirs. */
function noDash(text: string, offset: number): TextProblem | null {
  const lines = text
    .slice(0, text.indexOf('\n', offset) + 1 || undefined)
    .trimEnd()
    .split('\n');
  const indentOf = (line = ''): number => (line.trim() === '' ? Number.POSITIVE_INFINITY : line.search(/\S/));
  const isItem = (line = ''): boolean => /^ *- /.test(line);
  const isGroup = (line = ''): boolean => /^ *\{/.test(line);
  let at = lines.length - 1;
  const indent = indentOf(lines[at]);
  const above = lines.slice(0, at).findLastIndex((line) => indentOf(line) <= indent);
  if (indent === 0 || above < 0 || indentOf(lines[above]) !== indent) return null;
  const missing = isItem(lines[above]) ? /^ *(?:\{|[a-z_]+:)/.test(lines[at] ?? '') : isGroup(lines[above]);
  if (!missing || (isItem(lines[at]) && isItem(lines[above]))) return null;
  if (!isItem(lines[above])) at = above;
  while (isGroup(lines[at - 1]) && indentOf(lines[at - 1]) === indent) at -= 1;
  const start = lines.slice(0, at).join('\n').length + (at === 0 ? 0 : 1) + indent;
  return fileProblem('yaml-no-dash', start, { line: quoted(lineAt(text, start)) });
}

/** The first character of a line, where an offset is in the spaces before it. */
function afterIndent(text: string, offset: number): number {
  const start = text.lastIndexOf('\n', offset - 1) + 1;
  return /^ *$/.test(text.slice(start, offset))
    ? offset + (/^ */.exec(text.slice(offset))?.[0].length ?? 0)
    : offset;
}

function lineAt(text: string, offset: number): string {
  const start = text.lastIndexOf('\n', Math.max(0, offset - 1)) + 1;
  const end = text.indexOf('\n', start);
  return text.slice(start, end === -1 ? text.length : end).trim();
}
