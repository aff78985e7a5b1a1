/** What a fitted recipe leaves its page as, paper or file: taken in when it is first asked for, since few visitors do. */
import templates from 'kettleside:sheets';
import { kettleSheet } from '../../paper/kettle.ts';
import { hold } from '../archive/page-data.ts';
import { batchText } from './batch-text.ts';
import type { Travelled } from './fit-to-kitchen.ts';
import { OUT, type SheetMessage } from './print-sheet.ts';
import { Environment } from './templates.ts';

/** The kettle sheet of a fitted recipe, by the template that every kettle sheet is made with. */
function sheetMessage({ batch, brewery, plan }: Travelled): SheetMessage {
  return {
    kettleside: 'sheet',
    title: `${batch.title}, kettle sheet`,
    language: brewery.language,
    html: new Environment(templates).render('sheets/kettle.njk', {
      sheet: kettleSheet(batch, plan, brewery),
    }),
  };
}

const out = { sheetMessage, batchText };
export type RecipeOut = typeof out;
hold(OUT, out);
