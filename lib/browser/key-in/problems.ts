import type { Blank } from '../../key-in/key-in.ts';
import { PART_NAMES } from '../../key-in/parts.ts';
import { labelOf } from '../../key-in/words.ts';

/** Something to be looked at again, at one blank. */
export interface Shown {
  readonly blank: Blank;
  readonly text: string;
  readonly offers: readonly { readonly text: string; readonly take: () => void }[];
  /** For an unlikely answer: the text that is confirmed by a tick. */
  readonly confirm: string | null;
}

const firstInput = ({ id, kind }: Blank): string => (kind === 'date' ? `${id}${PART_NAMES.day}` : id);

/** Takes away what an earlier check has shown. */
export function clearProblems(form: HTMLFormElement): void {
  document.querySelector('[data-summary]')?.remove();
  for (const blank of form.querySelectorAll('.wrong')) blank.classList.remove('wrong');
  for (const input of form.querySelectorAll('[aria-invalid]')) input.removeAttribute('aria-invalid');
  for (const place of form.querySelectorAll('[id$="-problem"]')) {
    const ticked = place.querySelector<HTMLInputElement>('input:checked');
    // A tick that was given stays until its answer changes.
    if (ticked === null) place.replaceChildren();
  }
}

/** Shows every problem at its blank, and all of them in one place above the form, which gets the focus. */
export function showProblems(
  form: HTMLFormElement,
  problems: readonly Shown[],
  title = titleOf(problems),
): void {
  if (problems.length === 0) return;
  for (const problem of problems) showAt(form, problem);
  const summary = element('section', { class: 'summary', role: 'alert', tabindex: '-1', 'data-summary': '' });
  const list = element('ul', {});
  for (const { blank, text } of problems) {
    const link = element('a', { href: `#${firstInput(blank)}` }, `${blank.id} ${labelOf(blank)}: ${text}`);
    link.addEventListener('click', (event) => {
      event.preventDefault();
      document.getElementById(firstInput(blank))?.focus();
    });
    const item = element('li', {});
    item.append(link);
    list.append(item);
  }
  summary.setAttribute('aria-labelledby', 'summary');
  summary.append(element('h2', { id: 'summary' }, title), list);
  form.before(summary);
  summary.focus();
}

const titleOf = (problems: readonly Shown[]): string =>
  problems.some(({ confirm }) => confirm === null) ? 'There is a problem' : 'Is this what the paper says?';

function showAt(form: HTMLFormElement, { blank, text, offers, confirm }: Shown): void {
  const place = document.getElementById(`${blank.id}-problem`);
  const input = document.getElementById(firstInput(blank));
  if (place === null) return;
  const id = `${blank.id}-${confirm === null ? 'error' : 'doubt'}`;
  place.replaceChildren(element('p', { class: 'error', id }, text));
  if (offers.length > 0) {
    const line = element('p', { class: 'offers' }, 'Did you mean ');
    for (const offer of offers) {
      const button = element('button', { type: 'button', class: 'offer' }, offer.text);
      button.addEventListener('click', offer.take);
      line.append(button, ' ');
    }
    place.append(line, '?');
  }
  if (confirm !== null) {
    const name = `${blank.id}${PART_NAMES.sure}`;
    const tick = element('p', { class: 'tick' });
    tick.append(
      element('input', { type: 'checkbox', id: name, name, value: confirm }),
      element('label', { for: name }, `Yes, that is what the paper says (${labelOf(blank)})`),
    );
    place.append(tick);
  }
  form.querySelector(`[data-blank="${blank.id}"]`)?.classList.add('wrong');
  const described = (input?.getAttribute('aria-describedby') ?? '')
    .split(' ')
    .filter((part) => part !== '' && part !== id);
  input?.setAttribute('aria-describedby', [...described, id].join(' '));
  if (confirm === null) input?.setAttribute('aria-invalid', 'true');
}

/** An element with attributes and plain text. */
export function element(tag: string, attributes: Readonly<Record<string, string>>, text = ''): HTMLElement {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  if (text !== '') made.textContent = text;
  return made;
}
