export const data = {
  pagination: { data: 'batchSlugs', size: 1, alias: 'slug' },
  permalink: ({ slug }) => `batches/${slug}/plan.json`,
};

export function render({ slug }) {
  return this.planFile(slug);
}
