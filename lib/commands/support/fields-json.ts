import type { Brewery } from '../../batch/types/brewery.ts';
import type { Plan } from '../../batch/types/plan.ts';
import type { SheetResult } from '../../paper/engine/sheet.ts';
import type { SheetFile } from '../../site/paths.ts';

/** ISO 216 and, for Letter, 8.5 × 11 in. */
const PAPER_MM: { readonly [P in Brewery['paper']]: { readonly width: number; readonly height: number } } = {
  a4: { width: 210, height: 297 },
  letter: { width: 215.9, height: 279.4 },
};

/** The frame of every sheet, and the square marks in its corners: from them a photograph is put straight. */
const FRAME_MM = { x: 20, width: 178, height: 252, mark: 4 };

function cornerMarks(paper: Brewery['paper']) {
  const { x, width, height, mark } = FRAME_MM;
  const y = (PAPER_MM[paper].height - height) / 2;
  return [y, y + height - mark].flatMap((top) =>
    [x, x + width - mark].map((left) => ({ x: left, y: Number(top.toFixed(2)), width: mark, height: mark })),
  );
}

/** Every blank of a batch's sheets: its number, what it stands for, its page and its box in millimetres. */
export function fieldsJson(
  { slug, revision }: Plan,
  paper: Brewery['paper'],
  sheets: readonly { readonly file: SheetFile; readonly result: SheetResult }[],
): string {
  const fields = sheets.flatMap(({ file, result }) =>
    result.fields.map(({ id, key, meaning, page, box_mm }) => ({
      sheet: file,
      id,
      key,
      meaning,
      page,
      box_mm,
    })),
  );
  const pages = Object.fromEntries(sheets.map(({ file, result }) => [file, result.pages]));
  return `${JSON.stringify({ version: 1, slug, revision, paper, paper_mm: PAPER_MM[paper], corner_marks_mm: cornerMarks(paper), pages, fields }, null, 1)}\n`;
}
