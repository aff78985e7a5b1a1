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
    if (bytes.includes(0)) return { ok: false, problem: binary(0) };
    return refuse(
      'file-not-utf8',
      firstBadByte(bytes),
      'bytes that are not UTF-8',
      'a text file in UTF-8',
      'save it again from your editor as UTF-8',
    );
  }
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
  const control = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/.exec(text);
  return control === null ? { ok: true, text } : { ok: false, problem: binary(control.index) };
}

export function tooLarge(bytes: number): TextProblem {
  return {
    code: 'file-too-large',
    path: [],
    offset: 0,
    found: `${(bytes / MAX_FILE_BYTES).toFixed(1)} MiB`,
    expected: 'at most 1 MiB',
    mend: 'take pictures and other long matter out of the file',
  };
}

function binary(offset: number): TextProblem {
  return {
    code: 'file-binary',
    path: [],
    offset,
    found: 'characters that no text has',
    expected: 'a text file in UTF-8',
    mend: 'check that the file is what its name says, and save it as plain text',
  };
}

function refuse(code: string, offset: number, found: string, expected: string, mend: string): Decoded {
  return { ok: false, problem: { code, path: [], offset, found, expected, mend } };
}

/** Offset, in characters, of the first byte that is no UTF-8. */
function firstBadByte(bytes: Uint8Array): number {
  const lenient = new TextDecoder('utf-8').decode(bytes);
  return Math.max(0, lenient.indexOf('\ufffd'));
}
