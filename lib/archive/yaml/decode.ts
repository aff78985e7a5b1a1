import { fileProblem } from '../codes.ts';
import type { TextProblem } from './located.ts';

/** A batch file is a few kilobytes; beyond this a file is something else. */
export const MAX_FILE_BYTES = 1024 * 1024;

export type Decoded =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly problem: TextProblem };

/** Text of a file's bytes without a byte order mark, or why it is no text. */
export function decode(bytes: Uint8Array): Decoded {
  if (bytes.length > MAX_FILE_BYTES) return { ok: false, problem: tooLarge(bytes.length) };
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    const problem = bytes.includes(0)
      ? fileProblem('file-binary', 0)
      : fileProblem('file-not-utf8', firstBadByte(bytes));
    return { ok: false, problem };
  }
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
  const control = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/.exec(text);
  if (control === null) return { ok: true, text };
  return { ok: false, problem: fileProblem('file-binary', control.index) };
}

export const tooLarge = (bytes: number): TextProblem =>
  fileProblem('file-too-large', 0, { size: (bytes / MAX_FILE_BYTES).toFixed(1) });

/** Offset, in characters, of the first byte that is no UTF-8. */
function firstBadByte(bytes: Uint8Array): number {
  const lenient = new TextDecoder('utf-8').decode(bytes);
  return Math.max(0, lenient.indexOf('\ufffd'));
}
