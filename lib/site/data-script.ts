import { HOLDER } from '../browser/archive/page-data.ts';

/** JSON that is a JavaScript expression in any place. */
const expression = (data: unknown): string =>
  JSON.stringify(data)
    .replaceAll('<', '\\u003c')
    .replaceAll('\u2028', '\\u2028')
    .replaceAll('\u2029', '\\u2029');

/** A script that does nothing but hold data under a name, for pages that take it in. */
export const dataScript = (name: string, data: unknown): string =>
  `(self.${HOLDER}??={})[${expression(name)}]=${expression(data)};\n`;
