export const data = {
  pagination: { data: 'otherFiles', size: 1, alias: 'file' },
  permalink: ({ file }) => file,
};

export function render({ file }) {
  return this.otherFile(file);
}
