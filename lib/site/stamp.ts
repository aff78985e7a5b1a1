import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { ROOT } from './paths.ts';

/** What styles, scripts and templates are made from. */
const SOURCES = ['lib', 'templates'];

/** A text that changes whenever a file of the project's own does: names, sizes and times of all of them. */
export async function sourceStamp(): Promise<string> {
  const parts: string[] = [];
  for (const source of SOURCES) {
    const entries = await readdir(join(ROOT, source), { recursive: true, withFileTypes: true });
    const files = entries
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name));
    const found = await Promise.all(files.map(async (file) => [file, await stat(file)] as const));
    parts.push(...found.map(([file, { size, mtimeMs }]) => `${file} ${size} ${mtimeMs}`).sort());
  }
  return parts.join('\n');
}
