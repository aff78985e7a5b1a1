import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildSite, type SiteBuildResult } from '../../lib/site/build.ts';
import type { SiteContent } from '../../lib/site/site.ts';
import { brewed, brewery, hostile, planFor, planned, recipeOnly, unseen, wordy } from './fixture.ts';

export const content: SiteContent = {
  brewery,
  entries: [brewed, hostile, unseen, recipeOnly, planned, wordy].map((batch) => ({
    batch,
    plan: planFor(batch),
  })),
};

/** Builds the fixture's site into a new folder of the system's temporary folder. */
export async function buildFixture(
  site: SiteContent = content,
): Promise<{ dir: string; result: SiteBuildResult; remove: () => Promise<void> }> {
  const dir = await mkdtemp(join(tmpdir(), 'kettleside-site-'));
  const result = await buildSite({
    contentDir: 'content',
    outputDir: dir,
    data: { content: site, problems: [] },
  });
  return { dir, result, remove: () => rm(dir, { recursive: true, force: true }) };
}
