import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, it } from 'vitest';
import { packPdf } from '../../../lib/paper/engine/pack-pdf.ts';

/** A4 in points: 210 and 297 mm of 25.4 to the inch. */
const A4 = { width: (210 * 72) / 25.4, height: (297 * 72) / 25.4 };

/** A PDF of one page with a line of text, as a browser writes it: one object after the other, then a table. */
function plainPdf(trailerMore = ''): Buffer {
  const drawn = 'BT /F1 24 Tf 72 700 Td (Flame off) Tj ET';
  const objects = [
    '<</Title (Kettle sheet)>>',
    '<</Type /Catalog /Pages 3 0 R>>',
    '<</Type /Pages /Count 1 /Kids [4 0 R]>>',
    '<</Type /Page /Parent 3 0 R /MediaBox [0 0 594.95996 841.91998] /Contents 5 0 R\n/Resources <</Font <</F1 6 0 R>>>>>>',
    `<</Length ${drawn.length}>> stream\n${drawn}\nendstream`,
    '<</Type /Font /Subtype /Type1 /BaseFont /Helvetica>>',
  ];
  let text = '%PDF-1.4\n';
  const offsets = objects.map((body, at) => {
    const offset = text.length;
    text += `${at + 1} 0 obj\n${body}\nendobj\n`;
    return offset;
  });
  const start = text.length;
  const rows = offsets.map((offset) => `${String(offset).padStart(10, '0')} 00000 n \n`).join('');
  text += `xref\n0 ${objects.length + 1}\n0000000000 65535 f \n${rows}`;
  text += `trailer\n<</Size ${objects.length + 1}\n/Root 2 0 R\n/Info 1 0 R${trailerMore}>>\nstartxref\n${start}\n%%EOF\n`;
  return Buffer.from(text, 'latin1');
}

async function read(bytes: Uint8Array) {
  const loading = getDocument({ data: Uint8Array.from(bytes), verbosity: 0 });
  const document = await loading.promise;
  const page = await document.getPage(1);
  const { items } = await page.getTextContent();
  const { info } = await document.getMetadata();
  const told = {
    pages: document.numPages,
    view: page.view,
    text: items.map((item) => ('str' in item ? item.str : '')).join(''),
    title: (info as { Title?: string }).Title,
  };
  await loading.destroy();
  return told;
}

describe('packPdf', () => {
  it('keeps what a reader sees, and gives the page its exact size', async () => {
    const before = await read(plainPdf());
    const after = await read(packPdf(plainPdf(), A4));
    expect(before.view[2]).toBe(594.95996);
    expect(after.view[2]).toBeCloseTo(A4.width, 3);
    expect(after.view[3]).toBeCloseTo(A4.height, 3);
    expect({ ...after, view: [] }).toEqual({ ...before, view: [] });
  });

  it('gives the same bytes for the same file', () => {
    expect(Buffer.compare(packPdf(plainPdf(), A4), packPdf(plainPdf(), A4))).toBe(0);
  });

  it.each([
    ['encrypted', plainPdf(' /Encrypt 7 0 R')],
    ['updated in place', plainPdf(' /Prev 9')],
    ['packed already', Buffer.from(packPdf(plainPdf(), A4))],
    ['cut short', plainPdf().subarray(0, 200)],
  ])('leaves a file alone that is %s', (_, bytes) => {
    expect(Buffer.compare(packPdf(bytes, A4), bytes)).toBe(0);
  });
});
