/** A content folder that is built again and again with what is kept between builds, and compared with a clean build. */
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from 'vitest';
import { loadSite } from '../../lib/site/archive.ts';
import { buildSite } from '../../lib/site/build.ts';
import { openBuildCache } from '../../lib/site/build-cache.ts';
import { openOutput } from '../../lib/site/output.ts';
import { filesBelow } from './files.ts';

export async function cacheRoom({ withPlans = false } = {}) {
  const dir = await mkdtemp(join(tmpdir(), 'kettleside-cache-'));
  const at = (...parts: string[]) => join(dir, ...parts);
  await cp('content', at('content'), { recursive: true });

  let unkept: string | null = null;
  /** Builds as the commands do; gives how many batches were rebuilt, or null where nothing had to be done. */
  const build = async (): Promise<number | null> => {
    const cache = openBuildCache([at('content'), at('kept')], { cacheDir: at('cache'), withPlans });
    const data = await loadSite(at('content'), { memory: cache.memory });
    const output = openOutput(at('kept'));
    const whole = cache.wholeKey(data, []);
    if (cache.isWhole(whole, [output])) return null;
    const { keys, batches } = await buildSite({
      contentDir: at('content'),
      outputDir: at('kept'),
      output,
      cache,
      data,
    });
    await output.removeOthers();
    unkept = cache.keep(keys, [output], whole);
    return batches.anew;
  };

  /** Every file that differs between what is kept and what a build into an empty folder gives. */
  const differences = async (): Promise<string[]> => {
    await rm(at('clean'), { recursive: true, force: true });
    await buildSite({ contentDir: at('content'), outputDir: at('clean') });
    const [kept, clean] = [await filesBelow(at('kept')), await filesBelow(at('clean'))];
    const differ: string[] = [];
    for (const path of new Set([...kept, ...clean])) {
      const of = (folder: string) => readFile(at(folder, path), 'latin1').catch(() => folder);
      if ((await of('kept')) !== (await of('clean'))) differ.push(path);
    }
    return differ;
  };

  const batch = (slug: string) => at('content/batches', `${slug}.md`);
  const edit = async (file: string, was: RegExp, now: string): Promise<void> => {
    const text = await readFile(file, 'utf8');
    const edited = text.replace(was, now);
    expect(edited, `${file} ${was}`).not.toBe(text);
    await writeFile(file, edited);
  };

  return {
    at,
    build,
    unkept: () => unkept,
    differences,
    batch,
    edit,
    remove: () => rm(dir, { recursive: true, force: true }),
  };
}
