import { existsSync, statSync } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { writeWhole } from '../archive/write/write-whole.ts';
import type { SeenPage } from '../browser/key-in/data.ts';
import { type Grey, readingSize } from '../photo/grey.ts';
import { loadNet } from '../photo/net.ts';
import { type PageReading, type Refusal, readPage, refusalText, wholePage } from '../photo/read-page.ts';
import { sheetPage } from '../photo/strip.ts';
import { commandLine } from '../site/command-line.ts';
import { photoPage } from '../site/key-in/page.ts';
import { photoBatches } from '../site/key-in/printed.ts';
import { beginSession, readKit } from '../site/key-in/session.ts';
import { createNunjucks } from '../site/nunjucks.ts';
import { BREWER, NET } from '../site/paths.ts';
import type { Arguments } from './support/arguments.ts';
import { counted } from './support/report.ts';
import { FAILED, FINE, runCommand } from './support/run-command.ts';
import { CONTENT, type CommandSpec, OUTPUT, PRIVATE_OUTPUT } from './support/spec.ts';
import { UsageError } from './support/usage-error.ts';

const SPEC: CommandSpec = {
  name: 'photo',
  purpose:
    'Reads photographs of filled-in sheets and writes a page on which every number is confirmed by hand.',
  words: '<photograph …>',
  options: [
    CONTENT,
    OUTPUT,
    PRIVATE_OUTPUT,
    { name: 'to', value: 'DIR', fallback: BREWER || '.', help: 'folder for the page to confirm on' },
    { name: 'keep', value: null, help: 'keep each page, straightened, in the folder of its batch' },
  ],
  more: [
    'Pages are known by the strip of cells at their foot, and by what was printed from here; any order will do.',
    'Nothing leaves this computer, and nothing is keyed in: the page shows what was written beside a guess, and makes',
    `the file that ${commandLine('key-in')} takes. A kept page is private until pictures: in the batch names it.`,
    'Ends with exit code 1 where a photograph was not read.',
  ],
};
/** More than any phone writes, and little enough to be held at once. */
const LARGEST_MB = 100;

await runCommand(SPEC, readPhotographs);

async function readPhotographs(args: Arguments): Promise<number> {
  if (args.words.length === 0)
    throw new UsageError(
      `Which photographs? Name their files: ${commandLine('photo', 'page-1.jpg page-2.jpg')}`,
    );
  const folders = [join(args.text('output') ?? '', 'batches'), args.text('private-output') ?? ''];
  const printed = photoBatches({ contentDir: args.text('content') ?? '', printedTo: folders });
  if (printed.length === 0)
    throw new UsageError(`No sheet was printed from here with a code strip: first ${commandLine('sheets')}.`);
  const pages = printed.flatMap(({ photo }) => photo);
  const net = loadNet(await readFile(NET));
  const taken = new Map<string, Map<string, Taken>>();
  let known = 0;
  for (const path of args.words) {
    const grey = await decoded(path);
    const reading = 'pixels' in grey ? readPage(grey, pages, net) : grey;
    if (reading.kind === 'refused' || !('pixels' in grey)) {
      const looked = `${counted(pages.length, 'page')} of ${counted(printed.length, 'batch', 'batches')}`;
      console.log(`${path}: not read. ${refusalText(reading as Refusal, looked)}`);
      continue;
    }
    const { slug } = printed.find(({ photo }) => photo.includes(reading.page))!;
    const own = taken.get(slug) ?? new Map<string, Taken>();
    const again = own.has(reading.page.strip) ? '; an earlier photograph of it is left aside' : '';
    taken.set(slug, own.set(reading.page.strip, { reading, grey }));
    console.log(`${path}: ${sheetPage(reading.page)} of ${slug}${found(reading)}${again}`);
    known += 1;
  }
  let done = known === args.words.length;
  for (const [slug, own] of taken) done = (await writePage(args, folders, slug, [...own.values()])) && done;
  return done ? FINE : FAILED;
}

interface Taken {
  readonly reading: PageReading;
  readonly grey: Grey;
}

function found({ blanks }: PageReading): string {
  const numbers = blanks.filter(({ groups }) => groups.length > 0);
  const [filled, guessed] = [
    numbers.filter(({ groups }) => groups.some(({ text }) => text !== '')),
    numbers.filter(
      ({ groups }) => groups.every(({ text }) => text !== null) && groups.some(({ text }) => text),
    ),
  ];
  if (numbers.length === 0) return ': nothing to fill in on it';
  if (filled.length === 0) return ': nothing seems to be written on it';
  return `: ${filled.length} of ${counted(numbers.length, 'number')} filled in, ${guessed.length} with a guess`;
}

/** A photograph upright, grey and no larger than it is read: the decoder never holds more. */
async function decoded(path: string): Promise<Grey | Refusal> {
  if (!existsSync(path)) throw new UsageError(`There is no file ${path}.`);
  if (/\.(mp4|mov|avi|mkv|webm|3gp|m4v)$/i.test(path)) return { kind: 'refused', code: 'video' };
  const file = statSync(path);
  if (!file.isFile()) throw new UsageError(`${path} is not a file.`);
  if (file.size > LARGEST_MB * 1e6) return { kind: 'refused', code: 'too-large' };
  const { default: sharp } = await import('sharp');
  try {
    const image = sharp(path, { limitInputPixels: false, sequentialRead: true, failOn: 'none' });
    const { autoOrient } = await image.metadata();
    const size = readingSize(autoOrient.width, autoOrient.height);
    if (typeof size === 'string') return { kind: 'refused', code: size };
    const { data, info } = await image
      .autoOrient()
      .resize({ ...size, fit: 'fill' })
      .flatten({ background: 'white' })
      .greyscale()
      .raw()
      .toBuffer({ resolveWithObject: true });
    return { width: info.width, height: info.height, pixels: new Uint8Array(data) };
  } catch {
    return { kind: 'refused', code: 'no-picture' };
  }
}

async function jpegOf({ width, height, pixels }: Grey): Promise<Uint8Array> {
  const { default: sharp } = await import('sharp');
  return sharp(pixels, { raw: { width, height, channels: 1 } })
    .jpeg({ quality: 80 })
    .toBuffer();
}

/** Writes the page to confirm on for one batch, and keeps its sheets where asked; false where the batch cannot be opened. */
async function writePage(
  args: Arguments,
  folders: readonly string[],
  slug: string,
  taken: readonly Taken[],
): Promise<boolean> {
  const content = args.text('content') ?? '';
  const begun = beginSession(await readKit(content, folders), slug);
  if (!begun.ok) {
    console.log(`${slug}: ${begun.why}`);
    return false;
  }
  const seen: SeenPage[] = [];
  for (const { reading, grey } of taken) {
    const blanks = [];
    for (const { crop, ...blank } of reading.blanks) {
      const jpeg = Buffer.from(await jpegOf(crop)).toString('base64');
      blanks.push({ ...blank, src: `data:image/jpeg;base64,${jpeg}` });
    }
    seen.push({ name: sheetPage(reading.page), blanks });
    if (!args.flag('keep')) continue;
    const kept = join(content, 'batches', slug, `sheet-${reading.page.sheet}-${reading.page.page}.jpg`);
    await writeWhole(kept, await jpegOf(wholePage(grey, reading)));
    console.log(`kept ${kept}, private until pictures: names it`);
  }
  const path = join(args.text('to') ?? '', `${slug}-photographs.html`);
  await writeWhole(path, await photoPage(createNunjucks(), begun.session, seen));
  console.log(`\nOpen ${path} in a browser, confirm or type each number, and save its file. Then:`);
  console.log(`${commandLine('key-in', slug)} --file ${slug}-readings.txt`);
  return true;
}
