import { expect, it } from 'vitest';
import { savesInTurns } from './editor-race.ts';

it('of a thousand timed saves by editors none is lost', async () => {
  const { tries, lost, untold, met } = await savesInTurns(1000);
  expect([tries, lost, untold]).toEqual([1000, [], []]);
  // The moments are spread over the whole of a save: a good part of them has to fall inside.
  expect(met).toBeGreaterThan(300);
}, 900_000);
