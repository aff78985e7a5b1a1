export const data = {
  pagination: { data: 'batchSlugs', size: 1, alias: 'slug' },
  permalink: ({ slug }) => `batches/${slug}/index.html`,
};

export function render({ slug }) {
  return this.batchPage(slug);
}
