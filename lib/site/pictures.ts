/** The brewer's photographs, made small and without a word of where and with what they were taken. */
import { createHash } from 'node:crypto';
import { lstat, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Archive } from '../archive/archive.ts';
import { unusablePicture } from '../archive/schema/picture-file.ts';
import { writeWhole } from '../archive/write/write-whole.ts';
import type { LocatedProblem } from '../archive/yaml/located.ts';
import { locateProblem } from '../archive/yaml/source.ts';
import type { Picture } from '../batch/types/batch.ts';
import { quoted } from '../units/parse/parsed.ts';
import type { AssetFiles } from './assets.ts';
import { leftAt } from './output.ts';
import { cacheFolder, safeSlug } from './paths.ts';

/** Widths that are published, in pixels of the picture, each with the most bytes that it may take. */
const SIZES = [
  { width: 360, most_bytes: 60_000 },
  { width: 960, most_bytes: 300_000 },
] as const;
/** A picture is no taller than so many times its width. */
const TALLEST = 2;
const FORMATS = new Set(['jpeg', 'png', 'webp']);
const LARGEST_FILE_MB = 60;
/** From what nobody tells apart down to what still shows the beer. */
const QUALITIES = [80, 70, 60, 50, 40, 30, 20] as const;
/** Changes when the same picture is to be made otherwise than before. */
const MADE_AS = '1';

/** A photograph that can be published: its file's own bytes are read again when it is made. */
export interface Photograph {
  readonly alt: string;
  /** Absolute. */
  readonly path: string;
  /** Size and time of the file: another one is another picture. */
  readonly stamp: string;
  readonly slug: string;
  /** Place among the pictures of its batch, from 1. */
  readonly number: number;
  /** As it is looked at, upright. */
  readonly width: number;
  readonly height: number;
}

export type Photographs = ReadonlyMap<string, readonly Photograph[]>;

/** A picture for a template; addresses are relative to the page. */
export interface PictureView {
  readonly src: string;
  readonly srcset: string;
  readonly width: number;
  readonly height: number;
  readonly alt: string;
}

type Looked =
  | Pick<Photograph, 'width' | 'height' | 'stamp'>
  | { readonly found: string; readonly isThere: boolean };

/** What was seen of a file before, by its path; looked at again when its size or time changes. */
const seen = new Map<string, { readonly stamp: string; readonly looked: Looked }>();

/** Looks at the pictures of all batches that are published whole; one that cannot be used is left out and named. */
export async function readPhotographs(
  { batches, files }: Pick<Archive, 'batches' | 'files'>,
  contentDir: string,
): Promise<{ readonly photographs: Photographs; readonly problems: readonly LocatedProblem[] }> {
  const photographs = new Map<string, readonly Photograph[]>();
  const problems: LocatedProblem[] = [];
  for (const { slug, pictures } of batches) {
    const own: Photograph[] = [];
    for (const [at, picture] of pictures.entries()) {
      const folder = join(contentDir, 'batches', safeSlug(slug));
      const looked = await lookAt(folder, picture);
      const source = files.get(slug);
      if (!('found' in looked)) {
        const path = join(folder, picture.file);
        own.push({ alt: picture.alt, path, slug, number: own.length + 1, ...looked });
      } else if (source !== undefined)
        problems.push(locateProblem(source, unusablePicture(at, looked.found, looked.isThere)));
    }
    if (own.length > 0) photographs.set(slug, own);
  }
  return { photographs, problems };
}

/** Neither the folder nor the file may be a link: what is published is what lies there, and nothing else. */
async function lookAt(folder: string, { file }: Picture): Promise<Looked> {
  const path = join(folder, file);
  const [place, found] = await Promise.all([folder, path].map((each) => lstat(each).catch(() => null)));
  if (!place || !found)
    return { found: `no file ${quoted(file)} in the folder of the batch`, isThere: false };
  if (!place.isDirectory() || !found.isFile())
    return { found: `${quoted(file)}, a link, or not an ordinary file`, isThere: true };
  if (found.size > LARGEST_FILE_MB * 1e6)
    return { found: `a file of more than ${LARGEST_FILE_MB} MB`, isThere: true };
  const stamp = `${found.size} ${found.mtimeMs}`;
  const before = seen.get(path);
  if (before?.stamp === stamp) return before.looked;
  const looked = await measured(path, file, stamp);
  seen.set(path, { stamp, looked });
  return looked;
}

async function measured(path: string, file: string, stamp: string): Promise<Looked> {
  // Loaded here so that archives without pictures do not pay for it.
  const { default: sharp } = await import('sharp');
  try {
    const { format, autoOrient } = await sharp(await readFile(path)).metadata();
    if (FORMATS.has(format)) return { ...autoOrient, stamp };
    return { found: `${quoted(file)}, which is a picture of another format inside`, isThere: true };
  } catch {
    return { found: `${quoted(file)}, which cannot be read as a picture`, isThere: true };
  }
}

/** All that the published pictures of batches depend on: other bytes in a file show in when it was changed. */
export const photographsKey = (photographs: readonly Photograph[]): unknown =>
  photographs.map((photograph) => [photograph, leftAt(photograph.path)?.map(String)]);

/** Where a picture is published; its own name stays with the brewer. */
const fileName = (number: number, width: number): string => `picture-${number}-${width}.jpg`;
const pathOf = ({ slug, number }: Photograph, width: number): string =>
  `batches/${safeSlug(slug)}/${fileName(number, width)}`;

/** Width and height of a picture that is made to fit a width. */
function fitted(
  { width, height }: Photograph,
  to: number,
): { readonly width: number; readonly height: number } {
  const share = Math.min(1, to / width, (TALLEST * to) / height);
  return { width: Math.max(1, Math.round(width * share)), height: Math.max(1, Math.round(height * share)) };
}

/** The pictures of a batch for a template; `root` leads from the page to the top folder, `../../` from that of the batch. */
export function pictureViews(photographs: Photographs, slug: string, root: string): readonly PictureView[] {
  return (photographs.get(slug) ?? []).map((photograph) => {
    const made = SIZES.map(({ width }) => ({
      at: `${root}${pathOf(photograph, width)}`,
      ...fitted(photograph, width),
    }));
    const srcset = made.map(({ at, width }) => `${at} ${width}w`).join(', ');
    const [small, large] = made;
    return {
      src: small?.at ?? '',
      srcset,
      width: large?.width ?? 0,
      height: large?.height ?? 0,
      alt: photograph.alt,
    };
  });
}

/** The files of published pictures by path below the top folder, each made when it is asked for. */
export const pictureFiles = (photographs: Photographs): AssetFiles =>
  new Map(
    [...photographs.values()]
      .flat()
      .flatMap((photograph) =>
        SIZES.map((size) => [pathOf(photograph, size.width), () => made(photograph.path, size)] as const),
      ),
  );

/** One picture in one size, out of the cache where it was made before. */
async function made(path: string, size: (typeof SIZES)[number]): Promise<Uint8Array> {
  const bytes = await readFile(path);
  const key = createHash('sha256').update(`${MADE_AS} ${size.width} `).update(bytes).digest('hex');
  const cached = join(cacheFolder('photographs'), `${key}.jpg`);
  const before = await readFile(cached).catch(() => null);
  if (before !== null) return before;
  const small = await shrunk(bytes, size);
  await writeWhole(cached, small);
  return small;
}

/**
 * The picture upright, small, in the colours of screens, as a JPEG with nothing in it but the picture: the library writes no
 * metadata unless asked to.
 */
async function shrunk(bytes: Uint8Array, { width, most_bytes }: (typeof SIZES)[number]): Promise<Uint8Array> {
  const { default: sharp } = await import('sharp');
  const fits = { width, height: TALLEST * width, fit: 'inside', withoutEnlargement: true } as const;
  const image = sharp(bytes).autoOrient().resize(fits).flatten({ background: 'white' });
  let small = new Uint8Array();
  for (const quality of QUALITIES) {
    small = await image.clone().jpeg({ quality, mozjpeg: true }).toBuffer();
    if (small.length <= most_bytes) break;
  }
  return small;
}
