import { type Catalogue, type Facts, say } from '../units/problem.ts';
import type { TextProblem } from './yaml/located.ts';
import { MAX_DEPTH, MAX_VALUES } from './yaml/read.ts';

/** Every problem with a file itself or with its YAML. */
export const FILE_PROBLEMS = {
  'content-missing': [
    'The folder with the brewer’s files is not there.',
    'no such folder',
    'a folder with setups.yaml, brewery.yaml and a folder batches',
    'run the command where the content folder is, or name the folder',
  ],
  'tables-missing': [
    'The folder with the tables of ingredients is not there.',
    'no such folder',
    'the folder with the tables of ingredients',
    'install the project again, or name the folder',
  ],
  'file-unreadable': [
    'A file cannot be opened, or is not an ordinary file.',
    '{found}',
    'a text file that can be read',
    'check what it is and who may read it',
  ],
  'file-too-large': [
    'A file is larger than 1 MiB.',
    '{size} MiB',
    'at most 1 MiB',
    'take pictures and other long matter out of the file',
  ],
  'file-binary': [
    'A file holds bytes that do not belong in text.',
    'characters that do not belong in text',
    'a text file in UTF-8',
    'check that the file is what its name says, and save it as plain text',
  ],
  'file-not-utf8': [
    'A file is not encoded in UTF-8.',
    'bytes that are not UTF-8',
    'a text file in UTF-8',
    'save it again from your editor as UTF-8',
  ],
  'link-outside': [
    'A link leads out of the content folder.',
    'a link that leads out of the content folder',
    'a file in the content folder',
    'copy the file here instead of linking it',
  ],
  'setups-missing': [
    'There is no content/setups.yaml.',
    'no such file',
    'your pots by name, each with at least the size of its kettle',
    'write a file with for example stove: and below it, indented, kettle: {kettle}',
  ],
  'brewery-missing': [
    'Warning: there is no content/brewery.yaml; defaults are used.',
    'no such file',
    'the name of the brewery, its units and its paper',
    'write a file with name:, units: and paper:; metric units and A4 are used until then',
  ],
  'printed-damaged': [
    'Warning: a file that keeps what was printed is not as it was written; it counts as not there.',
    '{found}',
    'the file as the program wrote it',
    'bring it back from a copy of the folder; or delete it: readings are then compared with the print before it, else with the plan as it is now',
  ],
  'frontmatter-missing': [
    'A batch file does not begin with frontmatter.',
    ['{line}', 'an empty file'],
    '--- alone on the first line, the keys of the batch, and --- alone on a line',
    'begin the file with a line of three hyphens',
  ],
  'frontmatter-unclosed': [
    'The frontmatter is not closed by a line of three hyphens.',
    '{found}',
    ['{expected}', '--- alone on the line below the last key'],
    ['{mend}', 'write three hyphens alone on a line between the keys and the notes'],
  ],
  'frontmatter-not-yaml': [
    'The frontmatter asks for another language than YAML.',
    '{language}',
    'plain YAML: frontmatter is data, and no other language is ever run',
    'leave the three hyphens alone on the first line and write the keys as YAML',
  ],
  'yaml-too-large': [
    'YAML that would unfold to more than a file of this kind can need.',
    ['{found}', 'YAML that is too deep, too long or too much folded together by aliases'],
    ['{expected}', `at most ${MAX_VALUES} values, ${MAX_DEPTH} levels deep`],
    ['{mend}', 'write the values out, without anchors (&) and aliases (*)'],
  ],
  'yaml-tab': [
    'A tab where YAML wants spaces.',
    'a tab',
    'spaces, since YAML indents by spaces',
    'replace the tab by two spaces',
  ],
  'yaml-duplicate-key': [
    'A key appears twice in one group.',
    ['{key} a second time, after line {first}', '{key}'],
    'each key once in its group',
    'remove one of the two',
  ],
  'yaml-no-space': [
    'A colon without a space after it.',
    '{line}',
    'a space after the colon',
    ['write {key}: {value}', 'write title: and then, after a space, the title'],
  ],
  'yaml-no-dash': [
    'An item of a list that does not begin with a hyphen and a space.',
    '{line}',
    'an item of the list, which begins with "- "',
    'write "- " before it, as before every item',
  ],
  'yaml-no-colon': [
    'A line that is neither a key with a colon nor an item of a list.',
    '{line}',
    'a key with a colon and a space, or an item that begins with "- "',
    'add the colon, or indent the line so that it goes on with the value above',
  ],
  'yaml-colon-in-value': [
    'A value with a colon and a space in it that is not in quotes.',
    '{line}',
    'quotes around a value that has a colon and a space in it',
    'write it as key: "the value: all of it"',
  ],
  'yaml-unclosed': [
    'A quote, brace or bracket that is not closed.',
    '{what} that is not closed',
    '{mark} at its end',
    'write {mark} where the value ends',
  ],
  'yaml-indent': [
    'A line that is not indented like its neighbours.',
    '{line}',
    'the same number of spaces as the keys beside it',
    'line the key up with its neighbours',
  ],
  'yaml-reserved': [
    'A value that begins with a character that YAML keeps for itself.',
    '{line}',
    'a value that begins with a letter or a digit, or is in quotes',
    'put the value into quotes',
  ],
  'yaml-alias': [
    'An alias without an anchor.',
    '{line}',
    'a value',
    'put a value that begins with * into quotes',
  ],
  'yaml-tag': [
    'A tag; the keys themselves say what a value is.',
    '{tag}',
    'a value without a tag',
    'remove the word with the !',
  ],
  'yaml-key': [
    'A key that is not plain text.',
    'a list or a group as a key',
    'a word as a key',
    'write the key as one word',
  ],
  'yaml-documents': [
    'A second YAML document in one file.',
    'a second document',
    'one document in a file',
    'remove the line of dots or hyphens',
  ],
  'yaml-not-keys': [
    'YAML that is not a group of keys.',
    '{found}',
    'the keys of a batch, beginning with title:',
    'write each key with a colon and a space',
  ],
  'yaml-syntax': [
    'Any other slip in the YAML.',
    '{line}',
    'YAML: a key, a colon, a space and a value',
    'compare the line with its neighbours; put odd characters into quotes',
  ],
} as const satisfies Catalogue;

/** A problem at an offset of a text. */
export function fileProblem<C extends keyof typeof FILE_PROBLEMS>(
  code: C,
  offset: number,
  ...facts: Facts<(typeof FILE_PROBLEMS)[C]>
): TextProblem {
  return { ...say(FILE_PROBLEMS, code, ...facts), path: [], offset };
}
