export interface Progress {
  /** What is being done now. */
  say(text: string): void;
  /** Clears the line where it is rewritten in place. */
  end(): void;
}

/** What is needed of a stream to tell on it. */
export interface ProgressStream {
  readonly isTTY?: boolean;
  /** 0 or absent where the width is not known. */
  readonly columns?: number;
  write(text: string): unknown;
}

const EVERY_MS = 2000;

/**
 * Tells how long work goes on: on a terminal in one line that is rewritten, elsewhere in a line every two seconds
 * at most, so that short work is silent.
 */
export function progressOn(stream: ProgressStream = process.stderr): Progress {
  if (stream.isTTY) {
    return {
      say: (text) => void stream.write(`\r\u001b[2K${text.slice(0, (stream.columns || 80) - 1)}`),
      end: () => void stream.write('\r\u001b[2K'),
    };
  }
  let last = performance.now();
  return {
    say: (text) => {
      const now = performance.now();
      if (now - last < EVERY_MS) return;
      last = now;
      stream.write(`${text}\n`);
    },
    end: () => undefined,
  };
}
