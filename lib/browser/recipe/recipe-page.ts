import templates from 'kettleside:templates';
import { recipeBody } from '../../words/recipe-body.ts';
import { rootFrom, takeIn } from '../archive/page-data.ts';
import { asksForAmounts, type Changes, packets, type TravelData } from './changes.ts';
import { type Travelled, travel } from './fit-to-kitchen.ts';
import { fitWords } from './fit-words.ts';
import { formFields, readForm, wrongWords } from './form-fields.ts';
import { fromFragment, toFragment } from './fragment.ts';
import { OUT, printSheet } from './print-sheet.ts';
import type { RecipeOut } from './recipe-out.ts';
import { Environment } from './templates.ts';
import { whyNot } from './why-not.ts';

const root = rootFrom(document.currentScript);

function part<E extends Element>(selector: string, kind: new () => E): E {
  const found = document.querySelector(selector);
  if (!(found instanceof kind)) throw new Error(`The page has no ${selector}.`);
  return found;
}

function start(): void {
  const data = JSON.parse(part('#recipe-data', HTMLScriptElement).text) as TravelData;
  const form = part('.fit-form', HTMLFieldSetElement);
  const board = part('[data-part="board"]', HTMLElement);
  const body = part('[data-part="body"]', HTMLElement);
  const say = part('.fit-say', HTMLElement);
  const link = part('.fit-link', HTMLAnchorElement);
  const environment = new Environment(templates);
  const packetCount = packets(data.batch.recipe).length;

  let changes: Changes = {};
  let shown: Travelled | null = null;
  /** The page as it was written, which a fit of nothing brings back. */
  let plain = true;
  /** Boxes that hold no figure of a kitchen: they stay as they were typed until they are mended. */
  let wrong: readonly string[] = [];

  const address = (): string => {
    const { url } = data.brewery;
    const here = window.location.href.replace(/#.*$/, '');
    const page = url === null ? here : new URL(`recipes/${encodeURIComponent(data.batch.slug)}/`, url).href;
    const fragment = toFragment(changes);
    return fragment === '' ? page : `${page}#${fragment}`;
  };

  const tell = (sentences: readonly string[], trouble = false): void => {
    say.classList.toggle('trouble', trouble);
    say.replaceChildren(
      ...sentences.map((text) => Object.assign(document.createElement('p'), { textContent: text })),
    );
  };

  const fill = (): void => {
    for (const field of formFields(data, changes)) {
      const input = form.elements.namedItem(field.name);
      if (!(input instanceof HTMLInputElement)) continue;
      const isWrong = wrong.includes(field.name);
      if (input !== document.activeElement && !isWrong) input.value = field.value;
      input.min = field.min;
      input.max = field.max;
      if (isWrong) input.setAttribute('aria-invalid', 'true');
      else input.removeAttribute('aria-invalid');
      const unit = input.parentElement?.querySelector('.unit');
      if (unit) unit.textContent = field.unit;
      const range = document.getElementById(`fit-range-${field.name}`);
      if (range) range.textContent = isWrong ? `Only ${field.range}` : '';
    }
    const lists = {
      extract: changes.extract ?? '',
      units: changes.units ?? data.brewery.units,
      paper: changes.paper ?? data.brewery.paper,
    };
    for (const [name, value] of Object.entries(lists)) {
      const list = form.elements.namedItem(name);
      if (list instanceof HTMLSelectElement) list.value = value;
    }
  };

  /** What the boxes hold that is not possible. */
  const wrongSentences = (): readonly string[] => {
    const found = formFields(data, changes).filter(({ name }) => wrong.includes(name));
    if (found.length === 0) return [];
    return [
      ...found.map((field) => {
        const input = form.elements.namedItem(field.name);
        return wrongWords(field, input instanceof HTMLInputElement ? input.value : '');
      }),
      'The figures below are the ones from before.',
    ];
  };

  const show = (faults: readonly string[]): void => {
    const result = travel(data, changes);
    if (!result.ok) {
      tell(
        [
          'This cannot be brewed like this; the figures below are the ones from before.',
          ...wrongSentences().slice(0, -1),
          ...whyNot(data, changes, result.found),
        ],
        true,
      );
      return;
    }
    shown = result;
    const fitted = asksForAmounts(changes);
    if (fitted || !plain) {
      const view = recipeBody(result.batch, result.plan, result.brewery, fitted);
      board.innerHTML = environment.render('layouts/parts/recipe-board.njk', view);
      body.innerHTML = environment.render('layouts/parts/recipe-body.njk', view);
    }
    plain = !fitted;
    const trouble = [
      ...faults.map((fault) => `Part of the link could not be used: ${fault}.`),
      ...wrongSentences(),
    ];
    tell([...trouble, ...fitWords(result)], trouble.length > 0);
    link.href = address();
    document.dispatchEvent(new CustomEvent('kettleside:fitted', { detail: { plan: result.plan } }));
  };

  const follow = (): void => {
    const fragment = toFragment(changes);
    const here = window.location.href.replace(/#.*$/, '');
    window.history.replaceState(null, '', fragment === '' ? here : `${here}#${fragment}`);
  };

  const arrive = (): void => {
    const read = fromFragment(window.location.hash, packetCount);
    if (Object.keys(read.changes).length === 0 && read.faults.length === 0 && plain) {
      fill();
      return;
    }
    changes = read.changes;
    wrong = [];
    fill();
    show(read.faults);
  };

  form.addEventListener('input', (event) => {
    // A stove in words is a figure of heat in the box beside it.
    const { target } = event;
    const heat = form.elements.namedItem('heat_kW');
    if (target instanceof HTMLSelectElement && target.name === 'stove' && heat instanceof HTMLInputElement)
      heat.value = target.value === '' ? heat.defaultValue : target.value;
    const values = Object.fromEntries(
      [...form.elements].flatMap((one) =>
        one instanceof HTMLInputElement || one instanceof HTMLSelectElement ? [[one.name, one.value]] : [],
      ),
    );
    const read = readForm(data, values, changes.units ?? data.brewery.units, changes);
    // In other units every box is filled again.
    wrong = read.changes.units === changes.units ? read.wrong : [];
    changes = read.changes;
    fill();
    show([]);
    follow();
  });
  form.addEventListener('change', fill);
  window.addEventListener('hashchange', () => {
    if (window.location.hash === '' || window.location.hash.startsWith('#fit=')) arrive();
  });

  const current = (): Travelled | null => {
    if (shown === null) show([]);
    return shown;
  };
  const out = (act: (made: RecipeOut, travelled: Travelled) => unknown): void => {
    const travelled = current();
    if (travelled === null) return;
    takeIn<RecipeOut>(OUT, root)
      .then((made) => act(made, travelled))
      .catch((error: unknown) => tell([error instanceof Error ? error.message : String(error)], true));
  };
  const home = ({ batchText }: RecipeOut, travelled: Travelled): void => {
    const text = batchText(travelled, data.brewery.url === null ? null : address());
    const there = URL.createObjectURL(new Blob([text], { type: 'text/markdown' }));
    const name = `${data.batch.slug}.md`;
    Object.assign(document.createElement('a'), { href: there, download: name }).click();
    setTimeout(() => URL.revokeObjectURL(there), 10_000);
  };
  const acts: Readonly<Record<string, () => void>> = {
    print: () =>
      out(({ sheetMessage }, travelled) =>
        printSheet(sheetMessage(travelled), `${root}assets/print-sheet-${travelled.brewery.paper}.html`),
      ),
    home: () => out(home),
    back: () => {
      changes = {};
      wrong = [];
      fill();
      show([]);
      follow();
    },
  };
  for (const button of document.querySelectorAll<HTMLButtonElement>('.fit-acts button'))
    button.addEventListener('click', () => acts[button.value]?.());
  link.href = address();
  arrive();
}

start();
