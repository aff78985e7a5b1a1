import { changesOf } from '../../key-in/changes.ts';
import { keyedFile } from '../../key-in/file.ts';
import type { Answers, Blank, Raw } from '../../key-in/key-in.ts';
import { readingsLines } from '../../key-in/lines.ts';
import { changesInWords } from '../../key-in/words.ts';
import { element } from './problems.ts';

/** What a form without a server makes of the answers. */
export interface Making {
  readonly slug: string;
  readonly raw: Raw;
  readonly blanks: readonly Blank[];
  /** As on paper, by a blank's key. */
  readonly answers: Answers;
}

const partOf = (name: string): HTMLElement | null => document.getElementById(`made${name}`);

export function hideMade(): void {
  const made = partOf('');
  if (made !== null) made.hidden = true;
}

let address = '';

/** The changes one by one, the lines to paste, and the changes as a file. */
export function showMade({ slug, raw, blanks, answers }: Making): void {
  const [made, lines, file, list] = [partOf(''), partOf('-lines'), partOf('-file'), partOf('-changes')];
  if (!made || !list || !(lines instanceof HTMLTextAreaElement) || !(file instanceof HTMLAnchorElement))
    return;
  const changes = changesInWords(blanks, answers);
  list.replaceChildren(
    ...changes.map(({ blank, label, text, before }) => {
      const row = element('div', {});
      const name = element('dt', {});
      name.append(element('span', { class: 'blank-no' }, blank.id), ` ${label}`);
      const value = element('dd', {});
      value.append(element('strong', {}, text));
      if (before !== '') value.append(' ', element('span', { class: 'small' }, `in place of ${before}`));
      row.append(name, value);
      return row;
    }),
  );
  const none = partOf('-none');
  if (none !== null) none.hidden = changes.length > 0;
  const left = readingsLines(raw, blanks, changesOf(raw, blanks, answers));
  lines.value = left === '' ? '# No reading is left: take readings: out of the file.\n' : left;
  if (address !== '') URL.revokeObjectURL(address);
  address = URL.createObjectURL(new Blob([keyedFile(slug, blanks, answers)], { type: 'text/plain' }));
  file.href = address;
  made.hidden = false;
  made.focus();
}
