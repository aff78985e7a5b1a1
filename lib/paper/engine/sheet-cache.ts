/** Printed sheets by key: what was printed once is not printed again. */

import { readdir, readFile, rm, stat, utimes } from 'node:fs/promises';
import { join } from 'node:path';
import { sweepUnfinished, writeWhole } from '../../archive/write/write-whole.ts';
import type { PrintedSheet, SheetField } from './sheet.ts';
import { sha256 } from './sheet-key.ts';

const ENDING = '.sheet';
const LIMIT_BYTES = 200 * 1024 * 1024;
const UNUSED_MS = 90 * 24 * 3600 * 1000;

interface Facts {
  readonly key: string;
  readonly pages: number;
  readonly fields: readonly SheetField[];
  readonly overflow: readonly string[];
}

/**
 * One file an entry: the SHA-256 of the rest, a line of facts, and the PDF. An entry that is cut short, damaged
 * or under another's name does not match its own checksum or key, and counts as not there.
 */
export class SheetCache {
  readonly #folder: string;

  constructor(folder: string) {
    this.#folder = folder;
  }

  async read(key: string): Promise<PrintedSheet | undefined> {
    const path = this.#pathOf(key);
    const bytes = await readFile(path).catch(() => undefined);
    if (!bytes) return undefined;
    const sheet = opened(bytes, key);
    if (!sheet) {
      await rm(path, { force: true });
      return undefined;
    }
    const now = new Date();
    await utimes(path, now, now).catch(() => undefined);
    return sheet;
  }

  /** Keeps a sheet; throws the system's error where the folder cannot be written. */
  async keep(key: string, { pdf, pages, fields, overflow }: PrintedSheet): Promise<void> {
    const facts: Facts = { key, pages, fields, overflow };
    const rest = Buffer.concat([Buffer.from(`${JSON.stringify(facts)}\n`), pdf]);
    await writeWhole(this.#pathOf(key), Buffer.concat([Buffer.from(`${sha256(rest)}\n`), rest]));
  }

  /** Drops entries that nobody asked for in three months, and the longest unused ones over the limit. */
  async prune(limit_bytes = LIMIT_BYTES, unused_ms = UNUSED_MS): Promise<void> {
    sweepUnfinished(this.#folder);
    const names = await readdir(this.#folder).catch(() => []);
    const entries = await Promise.all(
      names
        .filter((name) => name.endsWith(ENDING))
        .map(async (name) => {
          const path = join(this.#folder, name);
          const { size, mtimeMs } = await stat(path).catch(() => ({ size: 0, mtimeMs: 0 }));
          return { path, size, mtimeMs };
        }),
    );
    let kept = 0;
    for (const { path, size, mtimeMs } of entries.sort((a, b) => b.mtimeMs - a.mtimeMs)) {
      kept += size;
      if (kept > limit_bytes || Date.now() - mtimeMs > unused_ms) await rm(path, { force: true });
    }
  }

  #pathOf(key: string): string {
    return join(this.#folder, `${key}${ENDING}`);
  }
}

function opened(bytes: Buffer, key: string): PrintedSheet | undefined {
  const first = bytes.indexOf('\n');
  const second = bytes.indexOf('\n', first + 1);
  if (first === -1 || second === -1) return undefined;
  const rest = bytes.subarray(first + 1);
  if (sha256(rest) !== bytes.toString('latin1', 0, first)) return undefined;
  const facts = JSON.parse(bytes.toString('utf8', first + 1, second)) as Facts;
  if (facts.key !== key) return undefined;
  const { pages, fields, overflow } = facts;
  return { pdf: bytes.subarray(second + 1), pages, fields, overflow };
}
