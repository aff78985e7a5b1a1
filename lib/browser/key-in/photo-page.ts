/** Reads photographs in a reader's browser: as a worker where it can, else as a script of the page itself. */
import weights from 'kettleside:weights';
import { type Grey, greyOf } from '../../photo/grey.ts';
import { loadNet } from '../../photo/net.ts';
import { type PageReading, type Refusal, readPage, wholePage } from '../../photo/read-page.ts';
import type { PhotoPage } from '../../photo/strip.ts';

export interface PhotoJob {
  readonly width: number;
  readonly height: number;
  readonly rgba: Uint8ClampedArray;
  readonly pages: readonly PhotoPage[];
}
export type PhotoAnswer = Refusal | (PageReading & { readonly whole: Grey });

const net = loadNet(Uint8Array.from(atob(weights), (sign) => sign.charCodeAt(0)));

function answer({ width, height, rgba, pages }: PhotoJob): PhotoAnswer {
  const grey = greyOf(width, height, rgba);
  const reading = readPage(grey, pages, net);
  return reading.kind === 'refused' ? reading : { ...reading, whole: wholePage(grey, reading) };
}

if ('document' in globalThis) Object.assign(globalThis, { kettlesidePhoto: answer });
else
  globalThis.onmessage = ({ data }: MessageEvent<PhotoJob>) => {
    globalThis.postMessage(answer(data));
  };
