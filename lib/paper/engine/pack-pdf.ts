/** Writes a browser's PDF again in the compact form of PDF 1.5: the same objects, packed. */

import { deflateSync } from 'node:zlib';

/** ISO 32000-1, 7.5.7: so many objects share a stream; more would make readers unpack more than they need. */
const OBJECTS_A_STREAM = 200;

const OBJECT = /(\d+) (\d+) obj\s*/y;
const MEDIA_BOX = /\/MediaBox\s*\[[^\]]*\]/;

interface PdfObject {
  readonly id: number;
  /** What is between `obj` and `endobj`. */
  readonly body: Buffer;
  readonly isStream: boolean;
}

/** The size of every page in points. */
export interface PageBox {
  readonly width: number;
  readonly height: number;
}

/**
 * Packs all objects that are no streams into object streams, with a cross-reference stream (ISO 32000-1, 7.5.7
 * and 7.5.8), and gives every page exactly the box named: browsers round it to their own pixels.
 *
 * A browser writes each element of a tagged document as an object of its own, in plain text; packed they take a
 * sixth. Nothing of what is drawn is touched. A file in another form than browsers write (encrypted, packed
 * already, updated in place) is given back as it is.
 */
export function packPdf(pdf: Uint8Array, box: PageBox): Uint8Array {
  const source = Buffer.from(pdf);
  const tail = source.toString('latin1', Math.max(0, source.length - 2048));
  const start = /startxref\s+(\d+)\s+%%EOF\s*$/.exec(tail)?.[1];
  const trailer = /trailer\s*<<([\s\S]*?)>>\s*startxref/.exec(tail)?.[1];
  if (start === undefined || trailer === undefined || /\/(?:Encrypt|Prev|XRefStm)\b/.test(trailer))
    return pdf;
  const objects = objectsAt(source, offsetsOf(source, Number(start)));
  if (objects === undefined) return pdf;
  return written(
    objects.map((each) => sized(each, box)),
    trailer,
  );
}

function offsetsOf(source: Buffer, start: number): number[] {
  const lines = source.toString('latin1', start).split(/\r?\n/);
  if (lines[0]?.trim() !== 'xref') return [];
  return lines.flatMap((line) => {
    const entry = /^(\d{10}) \d{5} n\s*$/.exec(line);
    return entry ? [Number(entry[1])] : [];
  });
}

function objectsAt(source: Buffer, offsets: readonly number[]): PdfObject[] | undefined {
  const ends = [...offsets].sort((a, b) => a - b);
  const objects = ends.map((offset, at) => {
    const text = source.toString('latin1', offset, offset + 40);
    OBJECT.lastIndex = 0;
    const head = OBJECT.exec(text);
    if (head === null || head[2] !== '0') return undefined;
    const from = offset + head[0].length;
    const to = source.lastIndexOf('endobj', (ends[at + 1] ?? source.lastIndexOf('xref')) - 1, 'latin1');
    const body = source.subarray(from, to);
    const opened = body.indexOf('stream', 0, 'latin1');
    return {
      id: Number(head[1]),
      body,
      isStream: opened >= 0 && body.includes('endstream', opened, 'latin1'),
    };
  });
  const whole = objects.filter((each) => each !== undefined);
  return whole.length === objects.length && whole.length > 0 ? whole : undefined;
}

/** Three decimals of a point are less than a thousandth of a millimetre. */
const points = (value: number): string => String(Number(value.toFixed(3)));

function sized(object: PdfObject, { width, height }: PageBox): PdfObject {
  if (object.isStream) return object;
  const text = object.body.toString('latin1');
  if (!/\/Type\s*\/Page(?![A-Za-z])/.test(text)) return object;
  const sizedText = text.replace(MEDIA_BOX, `/MediaBox [0 0 ${points(width)} ${points(height)}]`);
  return { ...object, body: Buffer.from(sizedText, 'latin1') };
}

type Place =
  | { readonly kind: 'at'; readonly offset: number }
  | { readonly kind: 'in'; readonly stream: number; readonly index: number };

function written(objects: readonly PdfObject[], trailer: string): Uint8Array {
  const parts: Buffer[] = [];
  const places = new Map<number, Place>();
  let length = 0;
  const put = (bytes: Buffer): void => {
    parts.push(bytes);
    length += bytes.length;
  };
  const putObject = (id: number, body: Buffer): void => {
    places.set(id, { kind: 'at', offset: length });
    put(Buffer.concat([Buffer.from(`${id} 0 obj\n`), body, Buffer.from('\nendobj\n')]));
  };
  // Four bytes above 127 tell programs that move files that this one is binary (ISO 32000-1, 7.5.2).
  put(Buffer.from('%PDF-1.5\n%\xe2\xe3\xcf\xd3\n', 'latin1'));
  for (const { id, body, isStream } of objects) if (isStream) putObject(id, trimmed(body));
  let next = Math.max(...objects.map(({ id }) => id)) + 1;
  const plain = objects.filter(({ isStream }) => !isStream);
  for (let from = 0; from < plain.length; from += OBJECTS_A_STREAM) {
    const group = plain.slice(from, from + OBJECTS_A_STREAM);
    for (const [index, { id }] of group.entries()) places.set(id, { kind: 'in', stream: next, index });
    putObject(next, objectStream(group));
    next += 1;
  }
  const start = length;
  places.set(next, { kind: 'at', offset: start });
  const keep = trailer.replace(/\/Size\s+\d+/, '').trim();
  putObject(next, crossReferences(places, next + 1, keep));
  put(Buffer.from(`startxref\n${start}\n%%EOF\n`));
  return Buffer.concat(parts);
}

function trimmed(body: Buffer): Buffer {
  let end = body.length;
  while (end > 0 && (body[end - 1] === 0x0a || body[end - 1] === 0x0d)) end -= 1;
  return body.subarray(0, end);
}

function stream(dictionary: string, bytes: Buffer): Buffer {
  const packed = deflateSync(bytes, { level: 9 });
  const head = `<<${dictionary} /Filter /FlateDecode /Length ${packed.length}>>\nstream\n`;
  return Buffer.concat([Buffer.from(head), packed, Buffer.from('\nendstream')]);
}

function objectStream(group: readonly PdfObject[]): Buffer {
  const index: string[] = [];
  const bodies: Buffer[] = [];
  let at = 0;
  for (const { id, body } of group) {
    const whole = Buffer.concat([trimmed(body), Buffer.from('\n')]);
    index.push(`${id} ${at}`);
    bodies.push(whole);
    at += whole.length;
  }
  const head = `${index.join(' ')}\n`;
  return stream(
    `/Type /ObjStm /N ${group.length} /First ${head.length}`,
    Buffer.concat([Buffer.from(head), ...bodies]),
  );
}

/** Rows of one, four and two bytes: kind, place, index; the first row is the head of the free list. */
function crossReferences(places: ReadonlyMap<number, Place>, size: number, keep: string): Buffer {
  const rows = Buffer.alloc(size * 7);
  rows.writeUInt16BE(0xffff, 5);
  for (const [id, place] of places) {
    const row = id * 7;
    rows.writeUInt8(place.kind === 'at' ? 1 : 2, row);
    rows.writeUInt32BE(place.kind === 'at' ? place.offset : place.stream, row + 1);
    rows.writeUInt16BE(place.kind === 'at' ? 0 : place.index, row + 5);
  }
  return stream(`/Type /XRef /W [1 4 2] /Size ${size} ${keep}`, rows);
}
