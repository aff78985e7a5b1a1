const path = (slug) => `batches/${slug}/index.html`;

export const data = {
  pagination: { data: 'batchSlugs', size: 1, alias: 'slug' },
  permalink: ({ slug }) => path(slug),
};

export function render({ slug }) {
  return this.made(path(slug));
}
