import { describe, expect, it } from 'vitest';
import { createMarkdown } from '../../lib/site/markdown.ts';

const markdown = createMarkdown();
const PIXEL = 'data:image/png;base64,iVBORw0KGgo=';

describe('links in notes', () => {
  it.each([
    ['https://example.org/a?b=1', true],
    ['http://example.org', true],
    ['mailto:a@example.org', true],
    ['../moorhen/index.html', true],
    ['#notes', true],
    ['javascript:alert(1)', false],
    ['JaVaScRiPt:alert(1)', false],
    ['&#106;avascript:alert(1)', false],
    ['vbscript:x', false],
    ['data:text/html,x', false],
    ['data:image/svg+xml;base64,PHN2Zz4=', false],
    ['file:///etc/passwd', false],
    ['//example.org/x', false],
    ['blob:x', false],
  ])('%s: %s', (address, allowed) => {
    const html = markdown.render(`[words](${address})`);
    expect(html.includes('<a '), html).toBe(allowed);
  });
});

describe('pictures in notes', () => {
  it('are drawn where the text carries them', () => {
    expect(markdown.render(`![foam](${PIXEL})`)).toContain(`<img src="${PIXEL}" alt="foam">`);
  });
  it('stay text where the address is none that a page may name', () => {
    expect(markdown.render('![foam](//example.org/p.png)')).toBe('<p>![foam](//example.org/p.png)</p>\n');
    expect(markdown.render('![foam](javascript:x)')).not.toContain('<img');
  });
  it.each(['https://example.org/p.png', 'p.png', '/p.png'])(
    'are their description where they lie elsewhere: %s',
    (source) => {
      expect(markdown.render(`![foam "high"](${source})`)).toBe('<p>foam &quot;high&quot;</p>\n');
    },
  );
});

describe('notes', () => {
  it('show HTML as text', () => {
    expect(markdown.render('<b onclick="x()">b</b>')).toBe(
      '<p>&lt;b onclick=&quot;x()&quot;&gt;b&lt;/b&gt;</p>\n',
    );
  });
  it.each([
    ['# A\n\n## B\n\n# C', ['h3', 'h4', 'h3']],
    ['## A\n\n### B', ['h3', 'h4']],
    ['### A\n\n###### B', ['h3', 'h4']],
    ['### A\n\n# B', ['h3', 'h3']],
  ])('keep their headings below the page’s own and skip none: %j', (text, tags) => {
    expect([...markdown.render(text).matchAll(/<(h\d)>/g)].map((m) => m[1])).toEqual(tags);
  });
  it('close every heading that they open', () => {
    const html = markdown.render('# A\n\n### B\n\n###### C');
    for (const level of [3, 4, 5])
      expect(html.split(`<h${level}>`).length).toBe(html.split(`</h${level}>`).length);
  });
});

describe('tables in notes', () => {
  it('are aligned by a class, since the policy of the pages allows no style attribute', () => {
    const html = markdown.render('| a | b | c |\n|:--|:-:|--:|\n| 1 | 2 | 3 |\n');
    expect(html).toContain('<th class="to-left">a</th>');
    expect(html).toContain('<td class="to-center">2</td>');
    expect(html).toContain('<td class="to-right">3</td>');
    expect(html).not.toContain('style=');
  });
});

describe('signs that turn the direction of writing', () => {
  it('are left out, also where they stand as an entity or in a link', () => {
    const html = markdown.render('a \u202e30 g&#x202e; b [c](https://example.org "d\u2067e") \u2066f');
    expect(html).not.toMatch(/[\u202a-\u202e\u2066-\u2069]/);
    expect(html).toContain('a 30 g b');
  });
});
