export const data = {
  pagination: { data: 'sheetNames', size: 1, alias: 'sheet' },
  permalink: ({ sheet }) => `batches/${sheet}.html`,
};

export function render({ sheet }) {
  return this.sheetPage(sheet);
}
