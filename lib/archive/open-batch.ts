import { createHash } from 'node:crypto';
import { existsSync, realpathSync } from 'node:fs';
import { basename, dirname, join, sep } from 'node:path';
import type { Batch } from '../batch/types/batch.ts';
import { hasTwelveHours } from '../units/parse/clock.ts';
import type { Problem } from '../units/problem.ts';
import type { Archive } from './archive.ts';
import { readKept } from './safe-read.ts';
import { checkBatch, type Surroundings } from './schema/check-batch.ts';
import { withPlainTimes } from './schema/plain-times.ts';
import { readSlug } from './schema/scalars.ts';
import { takenOf } from './write/sibling-path.ts';
import { splitFrontmatter } from './yaml/frontmatter.ts';
import { readYamlWithProblems } from './yaml/problems.ts';

export interface OpenBatch {
  readonly slug: string;
  /** Absolute and real: no link on the way. */
  readonly path: string;
  readonly bytes: Uint8Array;
  /** Without a byte order mark. */
  readonly text: string;
  /** SHA-256 of the bytes, hexadecimal. */
  readonly hash: string;
}

export type Opened =
  | { readonly ok: true; readonly file: OpenBatch }
  | { readonly ok: false; readonly why: string };

/**
 * Opens the file of a batch by its slug. Refused are names that are no slug, links that lead out of the content folder,
 * and all that is no text file.
 */
export function openBatch(contentDir: string, slug: string): Opened {
  const refuse = (why: string): Opened => ({ ok: false, why });
  const named = readSlug(slug);
  if (!named.ok || named.value !== slug) return refuse('There is no batch of that name.');
  const root = realPath(contentDir);
  const path = root === null ? null : placeOf(join(root, 'batches', `${slug}.md`));
  if (root === null || path === null) return refuse('There is no batch of that name.');
  if (!path.startsWith(root.endsWith(sep) ? root : root + sep)) {
    return refuse('The file of the batch is a link that leads out of the content folder.');
  }
  const read = readKept(path, root);
  if (read.kind === 'absent') return refuse('There is no batch of that name.');
  if (read.kind === 'problem') return refuse(`The file of the batch cannot be read: ${read.problem.found}.`);
  return { ok: true, file: { slug, path, bytes: read.bytes, text: read.text, hash: hashOf(read.bytes) } };
}

function realPath(path: string): string | null {
  try {
    return realpathSync(path);
  } catch {
    return null;
  }
}

/** Where the file of that name really lies; null where there is none, also none that is just being replaced. */
function placeOf(named: string): string | null {
  const folder = realPath(dirname(named));
  if (folder === null) return null;
  const real = realPath(named);
  if (real !== null || !existsSync(takenOf(named))) return real ?? realPath(named);
  return join(folder, basename(named));
}

export const hashOf = (of: string | Uint8Array): string => createHash('sha256').update(of).digest('hex');

export interface ReadBatch {
  readonly batch: Batch | null;
  /** The frontmatter as it was read, every value as text, times of the readings in one form. */
  readonly raw: Readonly<Record<string, unknown>>;
  readonly problems: readonly Problem[];
}

/** What a batch file depends on, from an archive that has been read. */
export const surroundingsOf = ({ brewery, setups, tables }: Archive): Surroundings => ({
  units: brewery.units,
  twelveHours: hasTwelveHours(brewery.language),
  setups,
  tables,
});

/** Checks the text of one batch file as the whole archive would; null where there is no frontmatter to check. */
export function readBatchText(slug: string, text: string, around: Surroundings): ReadBatch | null {
  const split = splitFrontmatter(text);
  if (!split.ok) return null;
  const yaml = readYamlWithProblems(split.yaml);
  const raw = yaml.value;
  if (yaml.problems.length > 0 || typeof raw !== 'object' || raw === null || Array.isArray(raw)) return null;
  const keys = withPlainTimes(raw as Readonly<Record<string, unknown>>, around.twelveHours ?? false);
  const { batch, problems } = checkBatch(slug, keys, split.notes, around);
  return { batch, raw: keys, problems };
}
