/** Reads a PDF with a library that has nothing to do with the browser that wrote it. */

import { readFileSync } from 'node:fs';
import { inflateSync } from 'node:zlib';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

const MM_PER_PT = 25.4 / 72;

export interface PdfWord {
  readonly text: string;
  /** Left end of the base line, from the upper left corner. */
  readonly x_mm: number;
  readonly y_mm: number;
}

export interface ReadPdf {
  readonly title: string;
  readonly language: string | null;
  readonly tagged: boolean;
  readonly outline: readonly string[];
  readonly pages: readonly { width_mm: number; height_mm: number; text: string; words: readonly PdfWord[] }[];
}

export async function readPdf(path: string): Promise<ReadPdf> {
  const data = new Uint8Array(readFileSync(path));
  const loading = getDocument({ data, useSystemFonts: false, verbosity: 0 });
  const document = await loading.promise;
  const { info } = await document.getMetadata();
  const facts = info as { Title?: string; Language?: string | null };
  const marked = await document.getMarkInfo();
  const outline = (await document.getOutline()) ?? [];
  const pages = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number);
    const { width, height } = page.getViewport({ scale: 1 });
    const { items } = await page.getTextContent();
    const words = items.flatMap((item) => {
      if (!('str' in item) || item.str.trim() === '') return [];
      const [x, y] = [Number(item.transform[4]), Number(item.transform[5])];
      return [{ text: item.str, x_mm: x * MM_PER_PT, y_mm: (height - y) * MM_PER_PT }];
    });
    const text = words.map((word) => word.text).join(' ');
    pages.push({ width_mm: width * MM_PER_PT, height_mm: height * MM_PER_PT, text, words });
  }
  await loading.destroy();
  return {
    title: facts.Title ?? '',
    language: facts.Language ?? null,
    tagged: marked?.Marked === true,
    outline: outline.flatMap((entry) => [entry.title, ...entry.items.map((item) => item.title)]),
    pages,
  };
}

/** The objects of a PDF as text, packed ones unpacked; pictures, fonts and page contents left out. */
export function objectText(path: string): string {
  const text = readFileSync(path, 'latin1');
  const packed = [...text.matchAll(/<<\/Type \/ObjStm [^>]*\/Length (\d+)>>\nstream\n/g)].map((match) => {
    const start = match.index + match[0].length;
    return inflateSync(Buffer.from(text.slice(start, start + Number(match[1])), 'latin1')).toString('latin1');
  });
  return [text.replace(/stream\r?\n[\s\S]*?endstream/g, 'stream endstream'), ...packed].join('\n');
}
