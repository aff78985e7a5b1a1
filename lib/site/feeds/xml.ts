import { escapeText } from '../charts/svg.ts';

/** Characters that XML 1.0 allows nowhere, not even escaped (section 2.2). */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are the characters to take out
const FORBIDDEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Surrogate}/gu;

/** Text made safe for an XML element or attribute; what XML cannot hold at all is left out. */
export const xmlText = (text: string): string => escapeText(text.replace(FORBIDDEN, ''));

/** One element with text; empty where the text is null. */
export function element(
  name: string,
  text: string | null,
  attributes: Readonly<Record<string, string>> = {},
): string {
  return text === null ? '' : `<${name}${attributesText(attributes)}>${xmlText(text)}</${name}>`;
}

/** One element without content. */
export const emptyElement = (name: string, attributes: Readonly<Record<string, string>>): string =>
  `<${name}${attributesText(attributes)}/>`;

const attributesText = (attributes: Readonly<Record<string, string>>): string =>
  Object.entries(attributes)
    .map(([key, value]) => ` ${key}="${xmlText(value)}"`)
    .join('');
