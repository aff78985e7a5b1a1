import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { openGraph } from '../../../lib/site/feeds/open-graph.ts';
import { dataBlock, recipeData } from '../../../lib/site/feeds/recipe-data.ts';
import { headView } from '../../../lib/site/pages/head.ts';
import { published, RECIPE_ONLY } from './site.ts';

/** schema.org/Recipe and the properties of it that are used here, with the types that their pages expect. */
const RECIPE_SCHEMA = {
  type: 'object',
  required: ['@context', '@type', 'name', 'recipeIngredient', 'recipeInstructions'],
  additionalProperties: false,
  properties: {
    '@context': { const: 'https://schema.org' },
    '@type': { const: 'Recipe' },
    '@id': { type: 'string', pattern: '^https?://' },
    name: { type: 'string', minLength: 1 },
    url: { type: 'string', pattern: '^https?://' },
    image: { type: 'string', pattern: '^https?://' },
    author: {
      type: 'object',
      required: ['@type', 'name'],
      properties: { '@type': { enum: ['Person', 'Organization'] }, name: { type: 'string' } },
    },
    datePublished: { type: 'string', pattern: '^\\d{4}-\\d{2}-\\d{2}$' },
    description: { type: 'string' },
    inLanguage: { type: 'string' },
    recipeCategory: { type: 'string' },
    recipeCuisine: { type: 'string' },
    keywords: { type: 'string' },
    recipeYield: { type: 'string', minLength: 1 },
    cookTime: { type: 'string', pattern: '^PT\\d+M$' },
    recipeIngredient: { type: 'array', minItems: 3, items: { type: 'string', minLength: 3 } },
    recipeInstructions: {
      type: 'array',
      minItems: 3,
      items: {
        type: 'object',
        required: ['@type', 'text'],
        additionalProperties: false,
        properties: {
          '@type': { const: 'HowToStep' },
          name: { type: 'string' },
          text: { type: 'string', minLength: 2 },
        },
      },
    },
    nutrition: {
      type: 'object',
      required: ['@type', 'servingSize', 'calories'],
      properties: {
        '@type': { const: 'NutritionInformation' },
        servingSize: { type: 'string' },
        calories: { type: 'string', pattern: '^\\d+ kcal$' },
      },
    },
  },
};

const site = published();
const check = new Ajv({ allErrors: true, strict: false }).compile(RECIPE_SCHEMA);

describe('schema.org Recipe', () => {
  it.each(site.recipes.map((entry) => [entry.batch.slug, entry] as const))(
    'of %s has its types',
    (_, entry) => {
      check(JSON.parse(dataBlock(recipeData(entry, site, 'batches/x/picture.png'))));
      expect(check.errors).toBeNull();
    },
  );

  it('tells nothing but the recipe where only the recipe is published', () => {
    const alone = site.recipesAlone.find(({ batch }) => batch.slug === 'sluice-recipe')!;
    const text = dataBlock(recipeData(alone, site, null));
    expect(text).toContain('Sluice');
    for (const word of [...RECIPE_ONLY, 'datePublished', 'keywords']) expect(text).not.toContain(word);
  });

  it('has no address where the site has none', () => {
    const text = dataBlock(recipeData(site.recipes[0]!, published(null), 'picture.png'));
    expect(text).not.toMatch(/"(?:url|image|@id)"/);
  });
});

describe('a data block', () => {
  const nasty = { a: '</script><script>alert(1)</script><!--', b: '\u2028 & "' };
  it('cannot end its element or open a comment, and is the same JSON', () => {
    expect(dataBlock(nasty)).not.toMatch(/[<>&\u2028]/);
    expect(JSON.parse(dataBlock(nasty))).toEqual(nasty);
  });
});

describe('Open Graph', () => {
  const head = headView(site.brewery, 'batches/x/index.html', 'X', 'An ale.');
  it('has the four properties that every page must have, with a picture (ogp.me)', () => {
    const tags = new Map(
      openGraph(head, 'article', { url: 'https://x.example/x.png', words: 'X' }).map((t) => [
        t.property,
        t.content,
      ]),
    );
    for (const name of ['og:title', 'og:type', 'og:image', 'og:url'])
      expect(tags.get(name), name).toBeTruthy();
    expect(tags.get('og:locale')).toBe('en_GB');
  });
  it('is left out where the site has no address, or a page is not listed', () => {
    const none = headView({ ...site.brewery, url: null }, 'index.html', 'X', 'An ale.');
    expect(openGraph(none, 'website', null)).toEqual([]);
    expect(openGraph(headView(site.brewery, '404.html', 'X', '', false), 'website', null)).toEqual([]);
  });
});
