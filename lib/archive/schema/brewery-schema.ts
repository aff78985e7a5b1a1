import { z } from 'zod';
import type { Brewery } from '../../batch/types/brewery.ts';
import { choice, count, line } from './scalars.ts';
import { optional } from './shapes.ts';
import { fault, type Leaf, leaf, quoted } from './value-fault.ts';

/**
 * The format of a brewer's files that this program reads, with all before it. It goes up by one when a key is added that a
 * program of before would take for a slip; keys are never renamed, so that older files need no change.
 */
export const FORMAT = 1;

export const brewerySchema = z
  .strictObject({
    format: count('Format that the files were written for; 1 where it is left out.', 1, FORMAT).nullish(),
    name: line('Name of the brewery.', 'The lock house'),
    ...optional({
      units: choice(['metric', 'us'], 'Units of everything that is computed.'),
      paper: choice(['a4', 'letter'], 'Paper of the sheets.'),
      author: line('Who brews.', 'M. Weir'),
      url: address('Address of the published site, for feeds and share links.'),
      language: language('Language of the pages.'),
    }),
  })
  .meta({ title: 'Brewery', description: 'Who brews, in which units, on which paper.' });

export const DEFAULT_BREWERY: Brewery = {
  name: 'Home brewery',
  units: 'metric',
  paper: 'a4',
  author: null,
  url: null,
  language: 'en',
};

export function breweryFrom(data: z.output<typeof brewerySchema>): Brewery {
  return {
    name: data.name,
    units: data.units ?? DEFAULT_BREWERY.units,
    paper: data.paper ?? DEFAULT_BREWERY.paper,
    author: data.author ?? null,
    url: data.url ?? null,
    language: data.language ?? DEFAULT_BREWERY.language,
  };
}

function address(description: string): Leaf<string> {
  return leaf(
    (text) => {
      const url = URL.canParse(text.trim()) ? new URL(text.trim()) : null;
      const web = url !== null && /^https?:$/.test(url.protocol) && url.username === '' && url.search === '';
      if (web && url.hash === '') {
        return { ok: true, value: url.href.endsWith('/') ? url.href : `${url.href}/` };
      }
      return fault('not-an-address', { text: quoted(text) });
    },
    { description, samples: ['https://brewery.example/'], type: 'string' },
  );
}

function language(description: string): Leaf<string> {
  return leaf(
    (text) => {
      try {
        return { ok: true, value: Intl.getCanonicalLocales(text.trim())[0] ?? 'en' };
      } catch {
        return fault('not-a-language', { text: quoted(text) });
      }
    },
    { description, samples: ['en'], type: 'string' },
  );
}
