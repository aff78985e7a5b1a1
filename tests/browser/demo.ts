/** The demo archive as its recipe pages carry it. */
import { join } from 'node:path';
import type { TravelData } from '../../lib/browser/recipe/changes.ts';
import { type LoadedSite, loadSite } from '../../lib/site/archive.ts';
import { buildSite } from '../../lib/site/build.ts';
import { type Published, publish } from '../../lib/site/site.ts';
import { travelData } from '../../lib/site/travel-data.ts';
import { builtOnce } from '../shared.ts';

export interface Demo {
  readonly loaded: LoadedSite;
  readonly site: Published;
  readonly recipes: ReadonlyMap<string, TravelData>;
}

let loading: Promise<Demo> | undefined;

/** Read and planned once for all tests of a process. */
export function loadDemo(): Promise<Demo> {
  loading ??= readDemo();
  return loading;
}

/** The folder of its built site, the same for all tests: nothing may be changed in it. */
export async function demoSite(): Promise<string> {
  const { loaded } = await loadDemo();
  const { dir } = await builtOnce('demo', async (outputDir) => {
    await buildSite({ contentDir: 'content', outputDir, data: loaded });
  });
  return dir;
}

async function readDemo(): Promise<Demo> {
  const loaded = await loadSite(join(import.meta.dirname, '../../content'));
  const site = publish(loaded.content);
  const recipes = new Map(site.recipes.map((entry) => [entry.batch.slug, travelData(entry, site)]));
  return { loaded, site, recipes };
}
