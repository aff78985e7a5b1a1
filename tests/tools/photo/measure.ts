/**
 * `measure.ts [PHOTOGRAPHS] [SEED] [HANDS.json] [PAGES]`: reads synthetic photographs and prints how often it was right.
 *
 * Without HANDS.json (see `hands.py`) all is written by the generator's pen, in whose forms the network was trained:
 * the figures then say little about strangers' hands. PAGES is a folder with the sheets of a batch, in which each was
 * made into pictures by `pdftoppm -r 203.2 -gray -png kettle-sheet.pdf kettle-sheet`; without it the generator draws
 * pages of its own.
 *
 * `measure.ts strangers [PHOTOGRAPHS] [SEED]`: of pages that are none of those at hand, how many are taken for one.
 */
import { readFileSync } from 'node:fs';
import { loadNet } from '../../../lib/photo/net.ts';
import { type BlankReading, type GroupReading, readPage } from '../../../lib/photo/read-page.ts';
import type { PhotoPage } from '../../../lib/photo/strip.ts';
import { pagesOf } from '../../../lib/site/key-in/printed.ts';
import { readPng } from '../../paper/paper/pictures.ts';
import { type Layer, loadHands, PEN_ONLY } from './handwriting.ts';
import {
  drawnPage,
  fillPage,
  layerFor,
  layerOf,
  printPage,
  STRANGERS,
  strangePage,
  type Truth,
} from './paper.ts';
import { type Level, photograph } from './photograph.ts';
import { type Random, randomFrom } from './random.ts';

const words = process.argv.slice(2);
const strangers = words[0] === 'strangers';
const [count = strangers ? '1000' : '120', seed = String(Date.now() % 1_000_000), handsFile, folder] =
  strangers ? words.slice(1) : words;
const hands = handsFile === undefined ? PEN_ONLY : loadHands(handsFile);
const net = loadNet(readFileSync(new URL('../../../lib/photo/net.bin', import.meta.url)));
/** Fixed before any of these seeds was drawn. */
const THRESHOLDS = [0.97, 0.99];
const CIRCLE_THRESHOLD = 0.9;
const MIX: readonly Level[] = ['easy', 'usual', 'usual', 'hard'];

/** A share as it is counted. */
class Share {
  of = 0;
  counted = 0;
  add(counts: boolean): void {
    this.of += 1;
    if (counts) this.counted += 1;
  }
  toString(): string {
    return this.of === 0
      ? 'none met'
      : `${((100 * this.counted) / this.of).toFixed(2)} % (${this.counted} of ${this.of})`;
  }
}

const rows = new Map<string, Share>();
const share = (name: string): Share => {
  const found = rows.get(name) ?? new Share();
  rows.set(name, found);
  return found;
};

function compareNumber(
  { digits, probability, boxes }: GroupReading,
  truth: string,
  level: Level,
  writer: string,
): void {
  if (truth.includes('x')) {
    for (const limit of THRESHOLDS)
      share(`corrected number above ${limit}`).add(digits !== null && probability >= limit);
    return;
  }
  if (truth.trim() === '') {
    share('empty number taken for filled').add(digits !== null && digits.trim() !== '');
    return;
  }
  const right = digits === truth;
  for (const name of ['all', level, writer]) share(`best guess right, ${name}`).add(right);
  for (const limit of THRESHOLDS) {
    share(`right and above ${limit}`).add(right && probability >= limit);
    share(`wrong among those above ${limit}`);
    if (probability >= limit && digits !== null) share(`wrong among those above ${limit}`).add(!right);
  }
  boxes.forEach((classes, at) => {
    if (truth[at] !== ' ')
      share('digits right').add(classes.indexOf(Math.max(...classes)) === Number(truth[at]));
  });
}

function compareBlank(blank: BlankReading, truth: Truth, level: Level, writer: string): void {
  for (const [at, group] of blank.groups.entries()) compareNumber(group, truth.digits[at]!, level, writer);
  if (blank.leftOut === null) return;
  if (truth.circle) share('marked circle seen').add(blank.leftOut >= CIRCLE_THRESHOLD);
  else share('plain circle taken for marked').add(blank.leftOut >= CIRCLE_THRESHOLD);
}

/** Pages that were printed, by their `fields.json`; those without a blank have nothing to read. */
const printed = (
  folder === undefined ? [] : pagesOf(JSON.parse(readFileSync(`${folder}/fields.json`, 'utf8')))
)
  .filter(({ fields }) => fields.length > 0)
  .map((page) => ({
    page,
    picture: readPng(readFileSync(`${folder}/${page.sheet}-sheet-${page.page}.png`)),
  }));

/** A page to write on, what is printed there, and the pages at hand when it is read. */
function aPage(i: number, random: Random): { page: PhotoPage; layer: Layer; atHand: readonly PhotoPage[] } {
  if (printed.length > 0) {
    const { page, picture } = random.pick(printed);
    return { page, layer: layerOf(picture, page), atHand: printed.map((one) => one.page) };
  }
  const batch = { slug: `batch-${i}`, revision: seed };
  const page = drawnPage('sheet', 1 + (i % 4), batch);
  const atHand = [1, 2, 3, 4].flatMap((at) => [
    drawnPage('sheet', at, batch),
    drawnPage('sheet', at, { ...batch, revision: 'another' }),
  ]);
  return { page, layer: printPage(page, random, hands, { batch }), atHand };
}

const refused = new Map<string, number>();
const seconds: number[] = [];

function readOwnPage(i: number, random: Random): void {
  const level = MIX[i % MIX.length]!;
  const { page, layer, atHand } = aPage(i, random);
  const { ink, truth, writer } = fillPage(page, random, hands, 'test');
  const picture = photograph(layer, ink, random, level);
  const start = process.cpuUsage();
  const reading = readPage(picture, atHand, net);
  seconds.push(process.cpuUsage(start).user / 1e6);
  const known = reading.kind === 'read' && reading.page.strip === page.strip;
  const whole = picture.cropped ? 'cropped' : level === 'hard' ? 'hard' : 'easy and usual';
  share(`page known, ${whole}`).add(known);
  share('wrong page accepted').add(reading.kind === 'read' && !known);
  if (reading.kind === 'refused') refused.set(reading.code, 1 + (refused.get(reading.code) ?? 0));
  else for (const blank of reading.blanks) compareBlank(blank, truth.get(blank.id)!, level, writer);
}

function readStranger(i: number, random: Random): void {
  const kind = STRANGERS[i % STRANGERS.length]!;
  const { layer, atHand } = strangePage(random, kind);
  const picture = photograph(layer, layerFor(atHand[0]!, layer.perMm), random, random.pick(MIX), 1100);
  const start = process.cpuUsage();
  const reading = readPage(picture, atHand, net);
  seconds.push(process.cpuUsage(start).user / 1e6);
  share(`wrong page accepted, ${kind}`).add(reading.kind === 'read');
  if (reading.kind === 'refused') refused.set(reading.code, 1 + (refused.get(reading.code) ?? 0));
}

for (let i = 0; i < Number(count); i += 1)
  (strangers ? readStranger : readOwnPage)(i, randomFrom(Number(seed) * 1009 + i));

seconds.sort((a, b) => a - b);
console.log(`${count} photographs, seed ${seed}\n\n| measured | |\n| --- | --- |`);
for (const [name, value] of [...rows].sort(([a], [b]) => a.localeCompare(b)))
  console.log(`| ${name} | ${value} |`);
console.log(`| refused | ${[...refused].map(([code, times]) => `${code} ${times}`).join(', ') || 'none'} |`);
console.log(`| processor a page, median | ${seconds[seconds.length >> 1]?.toFixed(2)} s |`);
