export interface Progress {
  /** What is being done now. */
  say(text: string): void;
  /** Clears the line where it is rewritten in place. */
  end(): void;
}

const EVERY_MS = 2000;

/**
 * Tells how long work goes on: on a terminal in one line that is rewritten, elsewhere in a line every two seconds
 * at most, so that short work is silent.
 */
export function progressOn(stream: NodeJS.WriteStream = process.stderr): Progress {
  if (stream.isTTY) {
    return {
      say: (text) => void stream.write(`\r\u001b[2K${text.slice(0, Math.max(20, stream.columns - 1))}`),
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
