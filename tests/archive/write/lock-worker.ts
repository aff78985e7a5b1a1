/** One of many processes that take a lock again and again, and leave one behind each time as if they had been killed. */
import { closeSync, openSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { locked } from '../../../lib/archive/write/lock.ts';
import { besideOf } from '../../../lib/archive/write/sibling-path.ts';

const [, , path = '', rounds = '1'] = process.argv;
const inside = `${path}.inside`;

function leaveBehind(): void {
  const lock = besideOf(path, 'lock');
  try {
    closeSync(openSync(lock, 'wx'));
    utimesSync(lock, 0, 0);
  } catch {
    // Somebody has the lock.
  }
}

leaveBehind();
for (let round = 0; round < Number(rounds); round += 1) {
  await locked(path, async () => {
    // Fails where another is inside.
    closeSync(openSync(inside, 'wx'));
    const count = Number(readFileSync(path, 'utf8'));
    await wait(Math.random() * 3);
    writeFileSync(path, String(count + 1));
    rmSync(inside);
  });
  leaveBehind();
}
