/** Grey pictures of pages: taken in the browser, read and written as PNG (ISO/IEC 15948) without a library. */

import { pathToFileURL } from 'node:url';
import { deflateSync, inflateSync } from 'node:zlib';
import type { Browser } from 'playwright-core';

/** One byte a pixel, 0 black, 255 white. */
export interface Grey {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
}

export interface Picture extends Grey {
  /** The largest difference between red, green and blue of one pixel. */
  readonly tint: number;
}

const SIGNATURE = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
const CHANNELS: Readonly<Record<number, number>> = { 0: 1, 2: 3, 6: 4 };

function chunksOf(png: Buffer): Map<string, Buffer> {
  const chunks = new Map<string, Buffer>();
  for (let at = SIGNATURE.length; at < png.length; ) {
    const length = png.readUInt32BE(at);
    const name = png.toString('latin1', at + 4, at + 8);
    const data = png.subarray(at + 8, at + 8 + length);
    chunks.set(name, Buffer.concat([chunks.get(name) ?? Buffer.alloc(0), data]));
    at += 12 + length;
  }
  return chunks;
}

/** The predictor of filter type 4 (ISO/IEC 15948, 9.4). */
function paeth(a: number, b: number, c: number): number {
  const p = a + b - c;
  const [pa, pb, pc] = [Math.abs(p - a), Math.abs(p - b), Math.abs(p - c)];
  if (pa <= pb && pa <= pc) return a;
  return pb <= pc ? b : c;
}

function unfiltered(raw: Buffer, stride: number, height: number, channels: number): Uint8Array {
  const out = new Uint8Array(stride * height);
  for (let y = 0; y < height; y += 1) {
    const filter = raw[y * (stride + 1)] ?? 0;
    for (let x = 0; x < stride; x += 1) {
      const at = y * stride + x;
      const a = x >= channels ? (out[at - channels] ?? 0) : 0;
      const b = y > 0 ? (out[at - stride] ?? 0) : 0;
      const c = x >= channels && y > 0 ? (out[at - stride - channels] ?? 0) : 0;
      const guess = [0, a, b, Math.floor((a + b) / 2), paeth(a, b, c)][filter] ?? 0;
      out[at] = (raw[y * (stride + 1) + 1 + x] ?? 0) + guess;
    }
  }
  return out;
}

/** Reads a PNG of eight bits a channel, grey or in colour. */
export function readPng(png: Buffer): Picture {
  const chunks = chunksOf(png);
  const head = chunks.get('IHDR');
  if (head?.[8] !== 8) throw new Error('not a PNG of eight bits a channel');
  const [width, height] = [head.readUInt32BE(0), head.readUInt32BE(4)];
  const channels = CHANNELS[head[9] ?? -1];
  if (channels === undefined) throw new Error(`a PNG of colour type ${head[9]}`);
  const samples = unfiltered(
    inflateSync(chunks.get('IDAT') ?? Buffer.alloc(0)),
    width * channels,
    height,
    channels,
  );
  const pixels = new Uint8Array(width * height);
  let tint = 0;
  for (let at = 0; at < pixels.length; at += 1) {
    const rgb = channels === 1 ? [samples[at] ?? 0] : [...samples.subarray(at * channels, at * channels + 3)];
    tint = Math.max(tint, Math.max(...rgb) - Math.min(...rgb));
    pixels[at] = Math.round(rgb.reduce((sum, one) => sum + one, 0) / rgb.length);
  }
  return { width, height, pixels, tint };
}

function crc32(bytes: Buffer): number {
  let crc = ~0;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return ~crc >>> 0;
}

function chunk(name: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const [length, crc] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  crc.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, crc]);
}

/** Writes a grey PNG. */
export function writePng({ width, height, pixels }: Grey): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head[8] = 8;
  const raw = Buffer.alloc((width + 1) * height);
  for (let y = 0; y < height; y += 1)
    raw.set(pixels.subarray(y * width, (y + 1) * width), y * (width + 1) + 1);
  return Buffer.concat([
    SIGNATURE,
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(raw, { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** Several pictures in one, side by side on a grey ground. */
export function sideBySide(pictures: readonly Grey[]): Grey {
  const gap = 4;
  const width = pictures.reduce((sum, one) => sum + one.width + gap, -gap);
  const height = Math.max(...pictures.map((one) => one.height));
  const pixels = new Uint8Array(width * height).fill(128);
  let left = 0;
  for (const one of pictures) {
    for (let y = 0; y < one.height; y += 1)
      pixels.set(one.pixels.subarray(y * one.width, (y + 1) * one.width), y * width + left);
    left += one.width + gap;
  }
  return { width, height, pixels };
}

/** Pictures of the pages of a sheet as they are printed, at so many dots to the inch. */
export async function pagePictures(browser: Browser, path: string, dpi: number): Promise<Picture[]> {
  const context = await browser.newContext({
    deviceScaleFactor: dpi / 96,
    viewport: { width: 900, height: 1200 },
  });
  const page = await context.newPage();
  await page.goto(pathToFileURL(path).href);
  await page.waitForSelector('html[data-sheet="ready"]', { timeout: 60_000 });
  await page.emulateMedia({ media: 'print' });
  const pictures: Picture[] = [];
  for (const sheet of await page.locator('.pagedjs_page').all())
    pictures.push(readPng(await sheet.screenshot({ animations: 'disabled' })));
  await context.close();
  return pictures;
}
