import { z } from 'zod';
import type { Units } from '../../units/dimension.ts';
import { pictureFile } from './picture-file.ts';
import { quantities } from './quantities.ts';
import { readingsSchema } from './readings-schema.ts';
import { recipeSchema } from './recipe-schema.ts';
import { choice, clock, count, date, line, prose, slug } from './scalars.ts';

function build(units: Units) {
  const q = quantities(units);
  return z
    .strictObject({
      title: line('Name of the batch.', 'Winding Hole Bitter'),
      number: count('Your own batch number.', 0, 999_999).nullish(),
      brewed: date('The day of brewing, planned or past.').nullish(),
      start: clock('When the kettle goes on; with it the sheet prints clock times.', q.twelveHours).nullish(),
      setup: slug('A key of content/setups.yaml.').nullish(),
      style: line('The style, in your own words.', 'Brown ale').nullish(),
      tags: z.array(line('One tag.', 'regatta')).nullish().describe('Tags for the archive.'),
      based_on: slug('The batch that this one changes: its file name without .md.').nullish(),
      publish: choice(
        ['true', 'false', 'recipe'],
        'true: on the site; false: not on it; recipe: the recipe only.',
      ).nullish(),
      private: prose('Never leaves this file.').nullish(),
      pictures: z
        .array(
          z.strictObject({
            file: pictureFile('A file in the folder of this batch: content/batches/<name of this file>/.'),
            alt: line('What it shows, for those who do not see it.', 'in the evening sun'),
          }),
        )
        .nullish()
        .describe('Photographs; where and with what they were taken is not published.'),
      recipe: recipeSchema(q),
      readings: readingsSchema(q).nullish(),
    })
    .meta({ title: 'Batch file', description: 'The frontmatter of one batch.' });
}

const built: Partial<Record<Units, ReturnType<typeof build>>> = {};

/** The frontmatter of a batch file, for a brewer who writes in these units. */
export function batchSchema(units: Units): ReturnType<typeof build> {
  built[units] ??= build(units);
  return built[units];
}

export type BatchData = z.output<ReturnType<typeof build>>;
