import { looksRight } from './look.ts';

looksRight({
  pages: [
    'batches/not-yet/index.html',
    'batches/mischief/index.html',
    'batches/wordy/index.html',
    'recipes/winding-hole-bitter/index.html',
    'recipes/wordy/index.html',
    'about/index.html',
    'by/index.html',
    'by/style/img-src-x-onerror-alert-1/index.html',
    'years/index.html',
    'years/2026/index.html',
    'search/index.html',
    'compare/index.html',
    'compare/index.html#a=mischief&b=wordy',
    '404.html',
  ],
  // The demo has what the fixture has not: learned figures, families, a year of beers.
  demo: [
    'index.html',
    'batches/moorhen-brown-3/index.html',
    'batches/november-fog-porter/index.html',
    'batches/twelfth-night-old/index.html',
    'recipes/regatta-bitter/index.html',
    'kit/index.html',
    'years/2026/index.html',
    'by/index.html',
    'by/setup/gas-stove-and-the-15-l-pot/index.html',
    'data/index.html',
    'about/index.html',
    'about/messages/index.html',
    'compare/index.html#a=moorhen-brown-2&b=moorhen-brown-3',
  ],
  widths: [360, 768],
  sheets: ['kettle-sheet', 'cellar-sheet', 'recipe-card'].map(
    (name) => `batches/winding-hole-bitter/${name}.html`,
  ),
});
