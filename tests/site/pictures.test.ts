import { existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadSite } from '../../lib/site/archive.ts';
import { buildSite } from '../../lib/site/build.ts';
import { pictureFiles, pictureViews } from '../../lib/site/pictures.ts';
import { publish } from '../../lib/site/site.ts';
import { place, smallBatch, write } from '../commands/run.ts';

const CAMERA = 'Lantern-Optics 7';
const PLACE = 'GPSLatitude>51,30.1234N';
const XMP = `<x:xmpmeta xmlns:x="adobe:ns:meta/"><exif:${PLACE}</exif:GPSLatitude></x:xmpmeta>`;

/** Noise, which hardly gets smaller, with the place, the camera and the way it was held written into it. */
function photograph(format: 'jpeg' | 'png' | 'webp', width: number, height: number): Promise<Buffer> {
  const noise = { type: 'gaussian', mean: 128, sigma: 60 } as const;
  return sharp({ create: { width, height, channels: 3, background: 'black', noise } })
    .withExif({
      IFD0: { Make: CAMERA },
      IFD3: {
        GPSLatitudeRef: 'N',
        GPSLatitude: '51/1 30/1 7/1',
        GPSLongitudeRef: 'W',
        GPSLongitude: '0/1 7/1 39/1',
      },
    })
    .withMetadata({ orientation: 6 })
    .withXmp(XMP)
    .withIccProfile('p3')
    .toFormat(format)
    .toBuffer();
}

/** Markers of the segments before the picture itself (ITU-T T.81, annex B). */
function segmentsOf(jpeg: Buffer): string[] {
  const markers: string[] = [];
  for (let at = 2; jpeg[at] === 0xff && jpeg[at + 1] !== 0xda; at += 2 + jpeg.readUInt16BE(at + 2))
    markers.push((jpeg[at + 1] ?? 0).toString(16));
  return markers;
}

const pictures = (...files: string[]): string =>
  `pictures: [${files.map((file) => ` { file: ${file}, alt: in the evening sun }`).join(',')} ]`;

const made = place([]);
const folder = (slug: string): string => join(made.content, 'batches', slug);
const published = (): string[] =>
  readdirSync(join(made.output, 'batches'), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.(jpe?g|png|webp)$/.test(name))
    .sort();

async function build(): Promise<void> {
  const data = await loadSite(made.content);
  await buildSite({ contentDir: made.content, outputDir: made.output, data });
}

beforeAll(async () => {
  for (const slug of ['seen', 'kept', 'shared']) mkdirSync(folder(slug));
  const [jpeg, png, webp] = await Promise.all([
    photograph('jpeg', 1600, 1200),
    photograph('png', 500, 400),
    photograph('webp', 300, 200),
  ]);
  for (const bytes of [jpeg, png, webp]) {
    // Nothing is proven by a picture that never had them: the tag 0x8825 leads to the place (Exif 2.32, 4.6.3).
    const { exif, xmp } = await sharp(bytes).metadata();
    expect([exif?.includes(CAMERA), exif?.includes(Buffer.from([0x25, 0x88])), xmp?.includes(PLACE)]).toEqual(
      [true, true, true],
    );
    expect(bytes.includes(CAMERA)).toBe(true);
  }
  writeFileSync(join(folder('seen'), 'IMG_at_home.jpg'), jpeg);
  writeFileSync(join(folder('seen'), 'glass.png'), png);
  writeFileSync(join(folder('seen'), 'small.webp'), webp);
  for (const slug of ['kept', 'shared']) writeFileSync(join(folder(slug), 'glass.jpg'), jpeg);
  write(made.batch('seen'), smallBatch('Seen', [pictures('IMG_at_home.jpg', 'glass.png', 'small.webp')]));
  write(made.batch('kept'), smallBatch('Kept', ['publish: false', pictures('glass.jpg')]));
  write(made.batch('shared'), smallBatch('Shared', ['publish: recipe', pictures('glass.jpg')]));
  await build();
});
afterAll(() => made.remove());

describe('the photographs of a batch', () => {
  it('are published small, and only of batches that are published whole', async () => {
    const sizes = await Promise.all(
      published().map(async (name) => {
        const { width, height } = await sharp(join(made.output, 'batches', name)).metadata();
        return [name, width, height];
      }),
    );
    // Held upright they are as tall as they were wide; none is made larger, nor taller than twice its width.
    expect(sizes).toEqual([
      ['seen/picture-1-360.jpg', 360, 480],
      ['seen/picture-1-960.jpg', 960, 1280],
      ['seen/picture-2-360.jpg', 360, 450],
      ['seen/picture-2-960.jpg', 400, 500],
      ['seen/picture-3-360.jpg', 200, 300],
      ['seen/picture-3-960.jpg', 200, 300],
    ]);
    for (const name of published().filter((each) => each.endsWith('-360.jpg')))
      expect(readFileSync(join(made.output, 'batches', name)).length).toBeLessThanOrEqual(60_000);
  });

  it('hold nothing but the picture: no place, no camera, no name', () => {
    for (const name of published()) {
      const segments = segmentsOf(readFileSync(join(made.output, 'batches', name)));
      // Tables, frame and the bare JFIF mark; place, camera, profiles and comments stand in e1 to ef and fe.
      expect(segments.filter((marker) => !/^(?:e0|db|c0|c2|c4|dd)$/.test(marker))).toEqual([]);
      expect(segments).toContain('db');
    }
    const all = readdirSync(made.output, { recursive: true, withFileTypes: true }).filter((one) =>
      one.isFile(),
    );
    expect(all.length).toBeGreaterThan(30);
    for (const { parentPath, name } of all) {
      const bytes = readFileSync(join(parentPath, name));
      for (const secret of [CAMERA, PLACE, 'IMG_at_home', 'Exif\0'])
        expect(bytes.includes(secret), `${name}: ${secret}`).toBe(false);
    }
  });

  it('come to a template with their sizes and words', async () => {
    const { photographs } = publish((await loadSite(made.content)).content);
    const at = '../../batches/seen/picture-1';
    expect(pictureViews(photographs, 'seen', '../../')[0]).toEqual({
      src: `${at}-360.jpg`,
      srcset: `${at}-360.jpg 360w, ${at}-960.jpg 960w`,
      width: 960,
      height: 1280,
      alt: 'in the evening sun',
    });
    expect([pictureViews(photographs, 'kept', ''), pictureViews(photographs, 'shared', '')]).toEqual([
      [],
      [],
    ]);
    expect([...pictureFiles(photographs).keys()]).toHaveLength(6);
  });

  it('go from the site with their batch', async () => {
    write(made.batch('seen'), smallBatch('Seen', ['publish: recipe', pictures('IMG_at_home.jpg')]));
    await build();
    expect(published()).toEqual([]);
    expect(existsSync(join(made.output, 'recipes/seen/index.html'))).toBe(true);
  });
});

describe('a picture that cannot be used is told of, and left out', () => {
  const outside = join(made.dir, 'outside.jpg');
  it.each([
    ['is missing', () => undefined, /no file "glass\.jpg"/, /put the file there/],
    ['is a link', (path: string) => symlinkSync(outside, path), /a link, or not an ordinary file/, /save it/],
    [
      'is of a phone’s own format',
      (path: string) => writeFileSync(path, HEIC),
      /cannot be read|another format/,
      /most compatible format/,
    ],
    ['is no picture', (path: string) => writeFileSync(path, 'words'), /cannot be read/, /save it as \.jpg/],
  ])('where it %s', async (what, make, found, mend) => {
    writeFileSync(outside, await photograph('jpeg', 20, 20));
    const slug = `bad-${what.replaceAll(/\W+/g, '-')}`;
    mkdirSync(folder(slug));
    make(join(folder(slug), 'glass.jpg'));
    write(made.batch(slug), smallBatch('Bad', [pictures('glass.jpg')]));
    const { content, problems } = await loadSite(made.content);
    const said = problems.filter(({ code, file }) => code === 'picture-unusable' && file.includes(slug));
    expect(said).toMatchObject([{ severity: 'warning', line: 4, path: ['pictures', 0, 'file'] }]);
    expect([said[0]?.found, said[0]?.mend]).toEqual([
      expect.stringMatching(found),
      expect.stringMatching(mend),
    ]);
    expect(publish(content).photographs.get(slug)).toBeUndefined();
    expect(content.entries.some(({ batch }) => batch.slug === slug)).toBe(true);
  });

  it('where its folder is a link', async () => {
    symlinkSync(folder('kept'), folder('linked'));
    write(made.batch('linked'), smallBatch('Linked', [pictures('glass.jpg')]));
    const { content, problems } = await loadSite(made.content);
    expect(problems.some(({ code, file }) => code === 'picture-unusable' && file.includes('linked'))).toBe(
      true,
    );
    expect(publish(content).photographs.get('linked')).toBeUndefined();
  });
});

/** The beginning of a file as phones write them (ISO/IEC 23008-12: brand heic), and nothing behind it. */
const HEIC = Buffer.concat([
  Buffer.from([0, 0, 0, 24]),
  Buffer.from('ftypheic\0\0\0\0mif1heic'),
  Buffer.alloc(400),
]);
