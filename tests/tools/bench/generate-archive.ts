/** Writes an archive of any size: the demo's batches over and over, each with its own name, day and amounts. */
import { cp, mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

/** Numbers from 0 to 1 that are the same for the same seed (mulberry32, Tommy Ettinger 2017, public domain). */
function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

const TABLES = ['brewery.yaml', 'setups.yaml', 'ingredients.yaml'];
const FIRST_DAY = Date.UTC(2016, 0, 2);
const DAY = 86_400_000;

/** A weight of the recipe a few per cent up or down, still as a person would write it. */
function vary(text: string, random: () => number): string {
  return text.replace(/(weight: )(\d+)( g\b)/g, (_, before: string, grams: string, after: string) => {
    const changed = Math.round(Number(grams) * (0.96 + 0.08 * random()));
    return `${before}${Math.max(1, changed)}${after}`;
  });
}

function asBatch(source: string, n: number, random: () => number): string {
  const brewed = new Date(FIRST_DAY + n * 3 * DAY).toISOString().slice(0, 10);
  return (
    vary(source, random)
      .replace(/^(title: ).*$/m, (_, key: string) => `${key}Batch ${n} of many`)
      .replace(/^(number: ).*$/m, (_, key: string) => `${key}${n}`)
      .replace(/^(brewed: ).*$/m, (_, key: string) => `${key}${brewed}`)
      .replace(/^based_on:.*\n/m, '')
      // Its photographs are not copied.
      .replace(/^pictures:\n(?: +.*\n)+/m, '')
      .replace(/^publish:.*\n/m, '')
  );
}

/** Writes `count` batches below `target`; the same seed gives the same bytes. */
export async function generateArchive(demo: string, target: string, count: number, seed = 1): Promise<void> {
  const folder = join(demo, 'batches');
  const names = (await readdir(folder)).filter((name) => name.endsWith('.md')).sort();
  const sources = await Promise.all(names.map((name) => readFile(join(folder, name), 'utf8')));
  const random = seeded(seed);
  await mkdir(join(target, 'batches'), { recursive: true });
  for (const table of TABLES) await cp(join(demo, table), join(target, table));
  for (let n = 1; n <= count; n++) {
    const source = sources[(n - 1) % sources.length]!;
    await writeFile(
      join(target, 'batches', `batch-${String(n).padStart(5, '0')}.md`),
      asBatch(source, n, random),
    );
  }
}
