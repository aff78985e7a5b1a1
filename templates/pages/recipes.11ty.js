const path = (slug) => `recipes/${slug}/index.html`;

export const data = {
  pagination: { data: 'recipeSlugs', size: 1, alias: 'slug' },
  permalink: ({ slug }) => path(slug),
};

export function render({ slug }) {
  return this.made(path(slug));
}
