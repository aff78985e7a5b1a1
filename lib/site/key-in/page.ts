import type { Environment } from 'nunjucks';
import { printedTargets } from '../../batch/types/plan.ts';
import type { KeyInData, SeenPage } from '../../browser/key-in/data.ts';
import { formScript, styleSheet } from '../assets.ts';
import { tidy } from '../data/columns.ts';
import { headView } from '../pages/head.ts';
import type { Kit, Opened } from './session.ts';

const HEADING = 'Key in readings';

/** What the page's own script needs. Nothing private is in it. */
export function pageData(opened: Opened, mode: KeyInData['mode']): KeyInData {
  const { batch, brewery, plan, raw, slug, printed } = opened;
  // Without what the figures hang on, which is most of them.
  const targets = Object.entries(printedTargets(plan)).map(([key, figure]) => [
    key,
    figure && { ...figure, contributors: [] },
  ]);
  return {
    mode,
    slug,
    units: brewery.units,
    language: brewery.language,
    batch: { ...batch, notes: '', tags: [], basedOn: null, pictures: [] },
    targets: Object.fromEntries(targets) as KeyInData['targets'],
    raw: { readings: raw.readings ?? {} },
    photo: printed?.photo ?? [],
    seen: [],
    paper: printed?.paper ?? null,
  };
}

/** JSON that is safe inside a script element, and the same in every version of Node. */
const inElement = (data: unknown): string =>
  JSON.stringify(data, (_, value: unknown) => tidy(value)).replaceAll(
    /[<>&\u2028\u2029]/g,
    (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );

/** What has to be known of the paper before its numbers are followed; empty where nothing has. */
export function paperNote({ printed, plan }: Opened): string {
  if (printed === null) return '';
  if (printed.paper !== null)
    return `The pages are those of the sheets with “plan ${printed.revision}” at their head.`;
  return (
    `The sheets were last printed from plan ${printed.revision}, and the recipe has changed since: on that paper blanks ` +
    `have other numbers than here, in plan ${plan.revision}. Go by the words beside them.`
  );
}

function frame({ brewery }: Pick<Kit, 'brewery'>, path: string, title: string, heading: string) {
  const head = headView(brewery, path, `${heading} – ${title}`, 'Keying in what was read.', false);
  return { head, title, heading, back: '../index.html', preview: false };
}

/** The page of the form: its script makes the form from what the page brings with it. */
export function formPage(environment: Environment, opened: Opened, mode: KeyInData['mode']): string {
  return environment.render('key-in/form.njk', {
    ...frame(opened, `batches/${opened.slug}/key-in/index.html`, opened.batch.title, HEADING),
    slug: opened.slug,
    offline: mode === 'offline',
    paper: paperNote(opened),
    data: inElement(pageData(opened, mode)),
  });
}

/** A page of its own for photographs that were read by the command: styles and script are in it. */
export async function photoPage(
  environment: Environment,
  opened: Opened,
  seen: readonly SeenPage[],
): Promise<string> {
  const script = (await formScript('key-in.js')).replaceAll('</script', '<\\/script');
  return environment.render('key-in/photo.njk', {
    language: opened.brewery.language,
    title: opened.batch.title,
    slug: opened.slug,
    // Without the typeface, whose files lie elsewhere.
    styles: (await styleSheet()).replaceAll(/@font-face\s*\{[^}]*\}/g, ''),
    script,
    data: inElement({ ...pageData(opened, 'offline'), seen }),
  });
}

/** Asks for the code that the terminal shows, or says why there is nothing to key in. */
export function plainPage(
  environment: Environment,
  kit: Pick<Kit, 'brewery'>,
  path: string,
  say: { readonly message: string } | { readonly wrongCode: boolean },
): string {
  const asks = 'wrongCode' in say;
  return environment.render('key-in/gate.njk', {
    ...frame(kit, path, 'Key in', asks ? 'One code first' : 'Nothing to key in'),
    message: asks ? '' : say.message,
    wrong: asks && say.wrongCode,
  });
}
