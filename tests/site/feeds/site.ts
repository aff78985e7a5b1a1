/** The demo archive as it is published, with a hidden batch and a recipe alone beside it. */
import { fileURLToPath } from 'node:url';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import { loadSite } from '../../../lib/site/archive.ts';
import type { FeedSource } from '../../../lib/site/feeds/entries.ts';
import { createMarkdown } from '../../../lib/site/markdown.ts';
import { type Published, publish, type SiteContent } from '../../../lib/site/site.ts';

const { content } = await loadSite(fileURLToPath(new URL('../../../content', import.meta.url)));

/** Words that stand only in what is not to be seen. */
export const HIDDEN = ['hidden-weir', 'Hidden Weir', 'secret tag', 'nobody reads this'] as const;
/** Words that only the batch of the recipe alone has, beside its recipe. */
export const RECIPE_ONLY = ['2025-12-31', 'only for us', 'alone-tag', '471108'] as const;

const [first] = content.entries;

function entry(over: Partial<Batch>) {
  const batch: Batch = { ...first!.batch, ...over };
  const result = planBatch(batch, content.brewery);
  if (!result.ok) throw new Error('no plan');
  return { batch, plan: result.plan };
}

export const contentWith = (url: string | null): SiteContent => {
  const whole: SiteContent = {
    brewery: { ...content.brewery, url },
    entries: [
      ...content.entries,
      entry({
        slug: 'hidden-weir',
        title: 'Hidden Weir',
        publish: 'nothing',
        tags: ['secret tag'],
        notes: 'nobody reads this',
      }),
      entry({
        slug: 'sluice-recipe',
        title: 'Sluice',
        publish: 'recipe',
        brewed: '2025-12-31',
        number: 471108,
        tags: ['alone-tag'],
        notes: 'only for us',
      }),
      entry({
        slug: 'odd-characters',
        title: 'Mild & <bitter> "ale" \u0007 \ud800',
        notes: '[up](../) and [away](https://example.org/?a=1&b=2) ]]> <script>alert(1)</script>',
      }),
    ],
  };
  return { ...whole, asRead: whole.entries.map((one) => one.batch) };
};

export const published = (url: string | null = 'https://pennywort-lock.example/'): Published =>
  publish(contentWith(url));

const markdown = createMarkdown();
export const source = (site: Published = published()): FeedSource => ({
  site,
  url: site.brewery.url ?? '',
  notes: ({ batch }) => markdown.render(batch.notes),
  picture: ({ batch }) => (batch.slug === 'odd-characters' ? `batches/${batch.slug}/picture.png` : null),
});
