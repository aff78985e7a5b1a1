import { labelOf } from '../../key-in/words.ts';
import { type Entry, element, type Form } from './form.ts';

export interface Problem {
  readonly entry: Entry;
  readonly text: string;
  readonly offers?: readonly string[];
  /** For an unlikely answer: what a tick confirms. */
  readonly confirm?: string | undefined;
}

export interface Problems {
  /** Unlikely answers that were confirmed, by key. */
  readonly sure: ReadonlyMap<string, string>;
  /** Every problem at its blank, and all of them in one place above the form, which gets the focus. */
  show(problems: readonly Problem[], heading: string): void;
  clear(): void;
}

const title = document.title;

/** @param taken called when a reading that may have been meant was taken by a tap */
export function problemList(root: HTMLFormElement, form: Form, taken: () => void): Problems {
  const sure = new Map<string, string>();

  function offersOf({ entry, offers = [] }: Problem): readonly HTMLElement[] {
    return offers.map((offer) => {
      const button = element('button', { type: 'button', class: 'offer' }, offer);
      button.addEventListener('click', () => {
        entry.put(offer);
        taken();
      });
      return button;
    });
  }

  function showAt(problem: Problem): void {
    const { entry, text, confirm } = problem;
    const offers = offersOf(problem);
    const { id, key } = entry.blank;
    form.reveal(entry);
    entry.box.classList.add('wrong');
    entry.first.setAttribute('aria-describedby', `${id}-problem`);
    entry.problem.replaceChildren(element('p', { class: 'error' }, text));
    if (offers.length > 0) entry.problem.append(element('p', {}, 'Did you mean ', ...offers, '?'));
    if (confirm === undefined) {
      entry.first.setAttribute('aria-invalid', 'true');
      return;
    }
    const name = `${id}-ok`;
    const tick = element('input', { type: 'checkbox', id: name, name });
    tick.addEventListener('change', () => {
      if (tick.checked) sure.set(key, confirm);
      else sure.delete(key);
    });
    const label = element('label', { for: name }, 'Yes, that is what the paper says');
    label.append(element('span', { class: 'hidden' }, ` (${labelOf(entry.blank)})`));
    entry.problem.append(element('p', { class: 'tick' }, tick, label));
  }

  function lineOf(problem: Problem): HTMLElement {
    const { entry, text } = problem;
    const { id } = entry.blank;
    const link = element('a', { href: `#${id}` }, `${id} ${labelOf(entry.blank)}: ${text}`);
    link.addEventListener('click', (event) => {
      event.preventDefault();
      form.reveal(entry);
      entry.first.focus();
    });
    return element('li', {}, link, ' ', ...offersOf(problem));
  }

  return {
    sure,
    show(problems, heading) {
      const place = new Map(form.entries.map((entry, i) => [entry, i]));
      const sorted = [...problems].sort((a, b) => place.get(a.entry)! - place.get(b.entry)!);
      for (const problem of sorted) showAt(problem);
      const summary = element(
        'section',
        { class: 'summary', role: 'alert', tabindex: '-1', 'data-summary': '', 'aria-labelledby': 'summary' },
        element('h2', { id: 'summary' }, heading),
        element('ul', {}, ...sorted.map(lineOf)),
      );
      document.querySelector('[data-summary]')?.remove();
      root.before(summary);
      document.title = `${heading}: ${title}`;
      summary.focus();
    },
    clear() {
      document.querySelector('[data-summary]')?.remove();
      document.title = title;
      for (const box of root.querySelectorAll('.wrong')) box.classList.remove('wrong');
      for (const { problem, first } of form.entries) {
        problem.replaceChildren();
        first.removeAttribute('aria-invalid');
      }
    },
  };
}
