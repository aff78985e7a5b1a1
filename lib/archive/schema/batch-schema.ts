import { z } from 'zod';
import type { Units } from '../../units/dimension.ts';
import { pictureFile } from './picture-file.ts';
import { quantities } from './quantities.ts';
import { readingsSchema } from './readings-schema.ts';
import { recipeSchema } from './recipe-schema.ts';
import { choice, clock, count, date, line, prose, slug } from './scalars.ts';
import { setupSchema } from './setups-schema.ts';
import { byUnits, optional } from './shapes.ts';

const picture = z.strictObject({
  file: pictureFile('A file in the folder of this batch: content/batches/<name of this file>/.'),
  alt: line('What it shows, for those who do not see it.', 'in the evening sun'),
});

/** The frontmatter of a batch file. */
const build = (units: Units, twelveHours: boolean) => {
  const q = { ...quantities(units), twelveHours };
  return z
    .strictObject({
      title: line('Name of the batch.', 'Winding Hole Bitter'),
      ...optional({
        number: count('Your own batch number.', 0, 999_999),
        brewed: date('The day of brewing, planned or past.'),
        start: clock('When the kettle goes on; with it the sheet prints clock times.', q.twelveHours),
        setup: slug('A key of content/setups.yaml.'),
        kitchen: setupSchema(units).describe(
          'The setup that the recipe is for, in its own file; setup: takes its place.',
        ),
        style: line('The style, in your own words.', 'Brown ale'),
        tags: z.array(line('One tag.', 'regatta')).describe('Tags for the archive.'),
        based_on: slug('The batch that this one changes: its file name without .md.'),
        publish: choice(
          ['true', 'false', 'recipe'],
          'true: on the site; false: not on it; recipe: the recipe only.',
        ),
        private: prose('Never leaves this file.'),
        pictures: z
          .array(picture)
          .describe('Photographs; where and with what they were taken is not published.'),
      }),
      recipe: recipeSchema(q),
      readings: readingsSchema(q).nullish(),
    })
    .meta({ title: 'Batch file', description: 'The frontmatter of one batch.' });
};
const BY_CLOCK = [false, true].map((twelveHours) => byUnits((units) => build(units, twelveHours)));

/** @param twelveHours whether `1:30` could be either half of the day */
export const batchSchema = (units: Units, twelveHours = false) => BY_CLOCK[twelveHours ? 1 : 0]!(units);

export type BatchData = z.output<ReturnType<typeof batchSchema>>;
