import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { progressOn } from '../../lib/commands/support/progress.ts';

beforeEach(() => void vi.useFakeTimers({ toFake: ['performance'] }));
afterEach(() => void vi.useRealTimers());

function written(isTTY: boolean, columns?: number) {
  const texts: string[] = [];
  const stream = {
    isTTY,
    ...(columns === undefined ? {} : { columns }),
    write: (text: string) => texts.push(text),
  };
  return { progress: progressOn(stream), texts };
}

it('away from a terminal tells every two seconds at most, and nothing of short work', () => {
  const { progress, texts } = written(false);
  progress.say('at once');
  vi.advanceTimersByTime(1900);
  progress.say('soon');
  vi.advanceTimersByTime(200);
  progress.say('now');
  progress.say('again');
  vi.advanceTimersByTime(2000);
  progress.say('later');
  progress.end();
  expect(texts).toEqual(['now\n', 'later\n']);
});

it('on a terminal rewrites one line that fits, and clears it', () => {
  const { progress, texts } = written(true, 10);
  progress.say('a long line of words');
  progress.end();
  expect(texts).toEqual(['\r\u001b[2Ka long li', '\r\u001b[2K']);
});
