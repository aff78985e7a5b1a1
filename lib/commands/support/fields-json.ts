import type { Brewery } from '../../batch/types/brewery.ts';
import type { Plan } from '../../batch/types/plan.ts';
import { type BoxMm, PAPER_MM, type SheetResult } from '../../paper/engine/sheet.ts';
import { FRAME_MM, MARK_MM, stripCode } from '../../photo/strip.ts';
import { type SheetFile, sheetKindOf } from '../../site/paths.ts';

/** The square marks in the corners of the frame, which is in the middle of the paper: by them a photograph is put straight. */
function cornerMarks({ width, height }: (typeof PAPER_MM)[Brewery['paper']]): readonly BoxMm[] {
  const [x, y] = [(width - FRAME_MM.width) / 2, (height - FRAME_MM.height) / 2];
  const places = { left: [x, x + FRAME_MM.width - MARK_MM], top: [y, y + FRAME_MM.height - MARK_MM] };
  const two = (mm: number): number => Number(mm.toFixed(2));
  return places.top.flatMap((top) =>
    places.left.map((left) => ({ x: two(left), y: two(top), width: MARK_MM, height: MARK_MM })),
  );
}

/**
 * Where every blank of a batch's sheets is, version 2: its number, what it means, its page, its box and those of its digits
 * in millimetres; and of every page the number that its code strip says.
 */
export function fieldsJson(
  { slug, revision }: Plan,
  paper: Brewery['paper'],
  sheets: readonly { readonly file: SheetFile; readonly result: SheetResult }[],
): Readonly<Record<string, unknown>> {
  const fields = sheets.flatMap(({ file, result }) =>
    result.fields.map((field) => ({ sheet: file, ...field })),
  );
  const pages = Object.fromEntries(sheets.map(({ file, result }) => [file, result.pages]));
  const strips = Object.fromEntries(
    sheets.map(({ file, result }) => [
      file,
      Array.from({ length: result.pages }, (_, at) =>
        stripCode({ sheet: sheetKindOf(file), page: at + 1, slug, revision }),
      ),
    ]),
  );
  const paper_mm = PAPER_MM[paper];
  const marks = { paper_mm, corner_marks_mm: cornerMarks(paper_mm) };
  return { version: 2, slug, revision, paper, ...marks, pages, strips, fields };
}
