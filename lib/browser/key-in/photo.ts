import type { DateContext } from '../../key-in/dates.ts';
import { guessOf } from '../../key-in/photo.ts';
import { labelOf, shownText } from '../../key-in/words.ts';
import { type Grey, readingSize } from '../../photo/grey.ts';
import { refusalText } from '../../photo/read-page.ts';
import { type PhotoPage, sheetPage } from '../../photo/strip.ts';
import type { SeenPage } from './data.ts';
import { type Entry, element, type Form } from './form.ts';
import type { PhotoAnswer, PhotoJob } from './photo-page.ts';

const LOOKED_FOR = 'the pages of this batch, as they were printed from here';

interface PhotoForm {
  readonly form: Form;
  readonly pages: readonly PhotoPage[];
  /** Pages that were read before the form was made. */
  readonly seen: readonly SeenPage[];
  readonly dates: DateContext;
  /** Where a straightened page is kept with the batch; null without a server. */
  readonly keep: ((name: string, jpeg: Blob) => Promise<string>) | null;
}

/** Lets a part of the form take photographs of its pages; takes it away where nothing is known of the paper. */
export function photoSection(section: HTMLElement, options: PhotoForm): void {
  const { pages, seen } = options;
  for (const page of seen) lay(options, page);
  if (seen.length > 0 || pages.every(({ fields }) => fields.length === 0)) {
    section.remove();
    return;
  }
  const input = section.querySelector('input')!;
  const list = section.querySelector('ul')!;
  input.addEventListener('change', () => {
    const files = [...(input.files ?? [])];
    input.value = '';
    void files.reduce((before, file) => before.then(() => take(options, file, list)), Promise.resolve());
  });
}

/** Reads one photograph and says what came of it. */
async function take(options: PhotoForm, file: File, list: HTMLElement): Promise<void> {
  const line = element('li', {}, `${file.name}: being read …`);
  list.append(line);
  const answer = await read(file, options.pages);
  if (answer.kind === 'refused') {
    line.replaceChildren(
      element('span', { class: 'error' }, `${file.name}: not read. ${refusalText(answer, LOOKED_FOR)}`),
    );
    return;
  }
  const { page, blanks, whole } = answer;
  const name = sheetPage(page);
  const found = lay(options, {
    name,
    blanks: blanks.map(({ crop, ...blank }) => ({
      ...blank,
      src: canvasOf(crop).toDataURL('image/jpeg', 0.85),
    })),
  });
  const text =
    blanks.length === 0
      ? 'there is nothing to fill in on it'
      : found === 0
        ? 'nothing seems to be written on it'
        : `${found} blanks filled in, none confirmed yet`;
  line.replaceChildren(
    `${name}: ${text}. `,
    await keepOffer(options, `sheet-${page.sheet}-${page.page}.jpg`, whole),
  );
}

/** A photograph decoded no larger than it is read, and read beside the page where the browser lets it. */
async function read(file: File, pages: readonly PhotoPage[]): Promise<PhotoAnswer> {
  if (file.type.startsWith('video/')) return { kind: 'refused', code: 'video' };
  let picture: ImageBitmap;
  try {
    picture = await createImageBitmap(file);
  } catch {
    return { kind: 'refused', code: 'no-picture' };
  }
  const size = readingSize(picture.width, picture.height);
  if (typeof size === 'string') return { kind: 'refused', code: size };
  const { width, height } = size;
  const canvas = element('canvas', { width: String(width), height: String(height) });
  const context = canvas.getContext('2d', { willReadFrequently: true })!;
  context.imageSmoothingQuality = 'high';
  context.drawImage(picture, 0, 0, width, height);
  picture.close();
  return answerTo({ width, height, pages, rgba: context.getImageData(0, 0, width, height).data });
}

/** The reader lies beside the form's own script. */
const script = (): string =>
  new URL('photo.js', document.querySelector<HTMLScriptElement>('script[src$="key-in.js"]')?.src).href;

function answerTo(job: PhotoJob): Promise<PhotoAnswer> {
  return new Promise((resolve) => {
    const here = (): void => {
      // A page that lies in a plain file may have no worker.
      const own = (globalThis as { kettlesidePhoto?: (job: PhotoJob) => PhotoAnswer }).kettlesidePhoto;
      if (own !== undefined) {
        resolve(own(job));
        return;
      }
      const element_ = element('script', { src: script() });
      element_.addEventListener('load', here);
      document.head.append(element_);
    };
    try {
      const worker = new Worker(script());
      worker.onmessage = ({ data }: MessageEvent<PhotoAnswer>) => {
        worker.terminate();
        resolve(data);
      };
      worker.onerror = here;
      worker.postMessage(job);
    } catch {
      here();
    }
  });
}

function canvasOf({ width, height, pixels }: Grey): HTMLCanvasElement {
  const canvas = element('canvas', { width: String(width), height: String(height) });
  const rgba = new Uint8ClampedArray(width * height * 4).map((_, at) =>
    at % 4 === 3 ? 255 : pixels[at >> 2]!,
  );
  canvas.getContext('2d')?.putImageData(new ImageData(rgba, width, height), 0, 0);
  return canvas;
}

/** Lays a page beside the form: each blank's crop and its guess, which stays a guess until it is tapped. Counts the filled. */
function lay({ form, dates }: PhotoForm, { name, blanks }: SeenPage): number {
  let [filled, after] = [0, dates.brewed];
  for (const { src, ...reading } of blanks) {
    const entry = form.entryOf(reading.key);
    if (entry === undefined) continue;
    const guess = guessOf(entry.blank, reading, { ...dates, brewed: after });
    if (entry.blank.kind === 'date' && guess) after = guess.slice(0, 10);
    if (guess !== '') filled += 1;
    const image = element('img', { src, alt: `${name}, blank ${reading.id} as it was photographed` });
    const said = element('p', {});
    entry.box.querySelector('.seen')?.remove();
    entry.problem.before(element('div', { class: 'seen' }, image, said));
    said.replaceChildren(...offerOf(entry, guess, said));
    form.reveal(entry);
    entry.box.addEventListener('input', ({ isTrusted }) => {
      if (isTrusted) said.replaceChildren('Typed.');
    });
  }
  return filled;
}

function offerOf(entry: Entry, guess: string | null, said: HTMLElement): readonly (string | Node)[] {
  const { blank } = entry;
  if (guess === null) return [blank.kind === 'text' ? 'Words are not read.' : 'No guess: type what you see.'];
  if (guess === '') return ['Seems empty.'];
  if (guess === blank.now) return ['The file says so already.'];
  const button = element(
    'button',
    { type: 'button', class: 'offer' },
    shownText(guess, blank.kind, document.documentElement.lang),
  );
  button.append(element('span', { class: 'hidden' }, `: confirm for ${labelOf(blank)}`));
  button.addEventListener('click', () => {
    entry.put(guess);
    said.replaceChildren('Confirmed.');
    entry.first.dispatchEvent(new Event('input', { bubbles: true }));
  });
  return ['Not confirmed: ', button];
}

/** Offers to keep a straightened page: with the batch by a server, as a file without one. */
async function keepOffer({ keep }: PhotoForm, name: string, whole: Grey): Promise<HTMLElement> {
  const jpeg = await new Promise<Blob | null>((done) => canvasOf(whole).toBlob(done, 'image/jpeg', 0.8));
  if (jpeg === null) return element('span');
  if (keep === null)
    return element('a', { href: URL.createObjectURL(jpeg), download: name }, 'Save the straightened page');
  const button = element('button', { type: 'button', class: 'offer' }, 'Keep the page with the batch');
  button.addEventListener('click', () => {
    button.disabled = true;
    void keep(name, jpeg).then((said) => button.replaceWith(said));
  });
  return button;
}
