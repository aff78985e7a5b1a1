import { looksRight } from './look.ts';

looksRight({
  pages: [
    'index.html',
    'batches/winding-hole-bitter/index.html',
    'compare/index.html#a=winding-hole-bitter&b=mischief',
  ],
  demo: ['index.html', 'batches/moorhen-brown-3/index.html', 'kit/index.html'],
  widths: [360],
  sheets: ['batches/mischief/kettle-sheet.html'],
});
