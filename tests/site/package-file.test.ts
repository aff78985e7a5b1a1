import { expect, it } from 'vitest';
import { packageFolder } from '../../lib/site/package-file.ts';

it.each([
  ['/home/b/k/node_modules/pagedjs/lib/index.cjs', 'pagedjs', '/home/b/k/node_modules/pagedjs'],
  ['C:\\b\\k\\node_modules\\pagedjs\\lib\\index.cjs', 'pagedjs', 'C:\\b\\k\\node_modules\\pagedjs'],
  [
    'C:\\b\\node_modules\\@font\\hyper-legible\\index.css',
    '@font/hyper-legible',
    'C:\\b\\node_modules\\@font\\hyper-legible',
  ],
  ['/a/node_modules/paged/node_modules/paged/x.js', 'paged', '/a/node_modules/paged/node_modules/paged'],
])('the folder of the package of %s', (entry, name, folder) => {
  expect(packageFolder(entry, name)).toBe(folder);
});

it('a file of another package is none of it', () => {
  expect(() => packageFolder('/a/node_modules/pagedjs-more/x.js', 'pagedjs')).toThrow(
    'no file of the package',
  );
});
