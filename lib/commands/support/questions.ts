import { createInterface, type Interface } from 'node:readline';
import type { z } from 'zod';
import { didYouMean } from '../../units/parse/nearest.ts';

/** An answer that can be used, or why it cannot. */
export type Answer =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly why: string };

export interface Question {
  readonly asks: string;
  /** Taken by Enter. */
  readonly fallback: string;
  read(text: string): Answer;
}

/** Lines as they come, whether or not somebody waits for one; null at the end. */
export function readerOf(input: Interface): () => Promise<string | null> {
  const lines = input[Symbol.asyncIterator]();
  return async () => {
    const { value, done } = await lines.next();
    return done ? null : String(value);
  };
}

/** Asks questions on the terminal, each until its answer can be used; where the input ends, the rest get their defaults. */
export function openQuestions(): { ask(question: Question): Promise<string>; close(): void } {
  const input = createInterface({ input: process.stdin, terminal: false });
  const next = readerOf(input);
  const ask = async ({ asks, fallback, read }: Question): Promise<string> => {
    for (;;) {
      process.stdout.write(`${asks}\n  [${fallback}] `);
      const line = await next();
      if (line === null) process.stdout.write('\n');
      const answer = read(line === null || line.trim() === '' ? fallback : line.trim());
      if (answer.ok) return answer.text;
      console.log(`  ${answer.why}`);
    }
  };
  return { ask, close: () => input.close() };
}

/** One of a few words, also by how it begins. */
export function oneOf(words: readonly string[], text: string): Answer {
  const begins = words.filter((word) => word.startsWith(text.toLowerCase()));
  const exact = words.find((word) => word === text.toLowerCase());
  const chosen = exact ?? (begins.length === 1 ? begins[0] : undefined);
  if (chosen !== undefined) return { ok: true, text: chosen };
  const near = didYouMean(text, words, 1);
  return { ok: false, why: `"${text}" is none of: ${words.join(', ')}${near === '' ? '.' : `; ${near}`}` };
}

/** What a key of a file takes, as its own reader reports it. */
export function asKey(schema: z.ZodType, text: string): Answer {
  const { success, error } = schema.safeParse(text);
  if (success) return { ok: true, text };
  const issue = error.issues[0];
  const fault =
    issue?.code === 'custom' ? (issue.params?.fault as Record<'found' | 'expected' | 'mend', string>) : null;
  return {
    ok: false,
    why: fault ? `${fault.found}: expected ${fault.expected}; ${fault.mend}` : `"${text}" cannot be used`,
  };
}
