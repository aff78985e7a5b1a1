/** Finds what is drawn on the pages of a PDF, from its path operators, with a library of its own. */

import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

const MM_PER_PT = 25.4 / 72;

/** Bounding box of one painted path, in millimetres from the page's upper left corner. */
export interface DrawnBox {
  readonly page: number;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

type Matrix = readonly [number, number, number, number, number, number];

/** ISO 32000-1, 8.3.4: the matrix of a nested system is applied first. */
function nested(outer: Matrix, [a, b, c, d, e, f]: Matrix): Matrix {
  return [
    outer[0] * a + outer[2] * b,
    outer[1] * a + outer[3] * b,
    outer[0] * c + outer[2] * d,
    outer[1] * c + outer[3] * d,
    outer[0] * e + outer[2] * f + outer[4],
    outer[1] * e + outer[3] * f + outer[5],
  ];
}

function boxOf(matrix: Matrix, [x0, y0, x1, y1]: readonly number[], page: number, height: number): DrawnBox {
  const corners = [
    [x0, y0],
    [x1, y0],
    [x0, y1],
    [x1, y1],
  ].map(([x = 0, y = 0]) => [
    matrix[0] * x + matrix[2] * y + matrix[4],
    height - (matrix[1] * x + matrix[3] * y + matrix[5]),
  ]);
  const xs = corners.map(([x = 0]) => x * MM_PER_PT);
  const ys = corners.map(([, y = 0]) => y * MM_PER_PT);
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  return { page, x: left, y: top, width: Math.max(...xs) - left, height: Math.max(...ys) - top };
}

const ENDS_ONLY = [OPS.endPath, OPS.clip, OPS.eoClip];

const STROKES = [OPS.stroke, OPS.closeStroke, OPS.fillStroke, OPS.closeFillStroke];

export async function drawnBoxes(pdf: Uint8Array): Promise<readonly DrawnBox[]> {
  const loading = getDocument({ data: Uint8Array.from(pdf), verbosity: 0 });
  const document = await loading.promise;
  const found: DrawnBox[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number);
    const { height } = page.getViewport({ scale: 1 });
    const { fnArray, argsArray } = await page.getOperatorList();
    let matrix: Matrix = [1, 0, 0, 1, 0, 0];
    let line = 1;
    const kept: { matrix: Matrix; line: number }[] = [];
    const keep = (): void => void kept.push({ matrix, line });
    const back = (): void => {
      const before = kept.pop();
      if (before) ({ matrix, line } = before);
    };
    for (const [at, operator] of fnArray.entries()) {
      const given = argsArray[at];
      if (operator === OPS.save) keep();
      else if (operator === OPS.restore) back();
      else if (operator === OPS.setLineWidth) line = Number(given[0]);
      else if (operator === OPS.transform) matrix = nested(matrix, given as unknown as Matrix);
      else if (operator === OPS.paintFormXObjectBegin) {
        keep();
        if (given?.[0]) matrix = nested(matrix, given[0] as Matrix);
      } else if (operator === OPS.paintFormXObjectEnd) back();
      else if (operator === OPS.constructPath && !ENDS_ONLY.includes(given[0] as number)) {
        const bounds = given[2] as ArrayLike<number> | null;
        // Half of a stroked line lies outside its path.
        const more = STROKES.includes(given[0] as number) ? line / 2 : 0;
        const ends = Array.from(bounds ?? [], (end, index) => end + (index < 2 ? -more : more));
        if (bounds) found.push(boxOf(matrix, ends, number, height));
      }
    }
  }
  await loading.destroy();
  return found;
}
