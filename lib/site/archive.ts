import type { SiteContent } from './site.ts';
export interface LoadedSite {
  readonly content: SiteContent;
  readonly problems: readonly unknown[];
}
export async function loadSite(contentDir: string): Promise<LoadedSite> {
  throw new Error(`not yet: ${contentDir}`);
}
