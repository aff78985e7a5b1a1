import { buildSite, type SiteBuildResult } from '../../lib/site/build.ts';
import type { SiteContent } from '../../lib/site/site.ts';
import { builtOnce } from '../shared.ts';
import { brewed, brewery, hostile, planFor, planned, recipeOnly, unseen, wordy } from './fixture.ts';

export const content: SiteContent = {
  brewery,
  entries: [brewed, hostile, unseen, recipeOnly, planned, wordy].map((batch) => ({
    batch,
    plan: planFor(batch),
  })),
};

/** The fixture's site, built once for all tests: nothing may be changed in it. */
export const fixtureSite = (): Promise<{ dir: string; result: SiteBuildResult }> =>
  builtOnce('fixture', (dir) =>
    buildSite({ contentDir: 'content', outputDir: dir, data: { content, problems: [] } }),
  );
