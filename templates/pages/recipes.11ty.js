export const data = {
  pagination: { data: 'recipeSlugs', size: 1, alias: 'slug' },
  permalink: ({ slug }) => `recipes/${slug}/index.html`,
};

export function render({ slug }) {
  return this.recipePage(slug);
}
