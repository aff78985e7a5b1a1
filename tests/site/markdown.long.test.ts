import { describe, expect, it } from 'vitest';
import { createMarkdown } from '../../lib/site/markdown.ts';

const markdown = createMarkdown();

describe('notes of a megabyte', () => {
  const MEGABYTE = 1_000_000;
  const words = (html: string): string =>
    html
      .replace(/<[^>]*>/g, '')
      .replaceAll('&lt;', '<')
      .replaceAll('&gt;', '>')
      .replaceAll('&quot;', '"')
      .replaceAll('&amp;', '&');

  it.each([
    '![[',
    '![',
    '[',
    '[a](',
    '|a\n|-\n',
    'a|b\n-|-\n',
    '* a\n+ b\n',
    '> a\n\n',
    '# a\n',
    '*_',
    '<a@b.c>',
  ])('of %j are shown', (unit) => {
    const html = markdown.render(unit.repeat(MEGABYTE / unit.length));
    expect(html.length).toBeGreaterThan(MEGABYTE / 10);
  });
  it('are blocks up to a bound that no prose comes near, and stand as they were written from there on', () => {
    const items = Array.from({ length: 90_000 }, (_, at) => `- item ${at}.\n`);
    const html = markdown.render(items.join(''));
    expect(html.slice(0, 80)).toMatch(/^<ul>\n<li>item 0\.<\/li>\n<li>item 1\.<\/li>/);
    expect(html.slice(-80)).toContain('- item 89999.\n</code></pre>');
    const shown = new Set(words(html).match(/item \d+\./g));
    expect(shown.size).toBe(items.length);
  });
  it('keep every cell, with tables or, where there are too many, without', () => {
    const rows = (count: number) => ['| a | b |', '|---|---|', ...Array(count).fill('| 1 | 2 |')].join('\n');
    expect(markdown.render(rows(10_000))).toContain('<table>');
    const html = markdown.render(rows(20_000));
    expect(html).not.toContain('<table>');
    expect(words(html).match(/\| 1 \| 2 \|/g)).toHaveLength(20_000);
    expect(markdown.render(rows(3))).toContain('<table>');
  });
  it.each([
    ['> '.repeat(60), 'quotes'],
    ['- '.repeat(60), 'lists'],
    ['> - '.repeat(30), 'quotes and lists'],
  ])('lose no word however deep it stands: %#, %s', (before) => {
    expect(words(markdown.render(`${before}word\n\nafter`))).toMatch(/word[\s\S]*after/);
  });
  it('keep lists in lists as lists, sixteen deep', () => {
    const text = Array.from({ length: 16 }, (_, level) => `${'  '.repeat(level)}- level ${level}`).join('\n');
    expect(markdown.render(text).match(/<ul>/g)).toHaveLength(16);
  });
});
