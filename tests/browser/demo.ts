/** The demo archive as its recipe pages carry it. */
import { join } from 'node:path';
import type { TravelData } from '../../lib/browser/recipe/changes.ts';
import { type LoadedSite, loadSite } from '../../lib/site/archive.ts';
import { type Published, publish } from '../../lib/site/site.ts';
import { travelData } from '../../lib/site/travel-data.ts';

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

async function readDemo(): Promise<Demo> {
  const loaded = await loadSite(join(import.meta.dirname, '../../content'));
  const site = publish(loaded.content);
  const recipes = new Map(site.recipes.map((entry) => [entry.batch.slug, travelData(entry, site)]));
  return { loaded, site, recipes };
}
