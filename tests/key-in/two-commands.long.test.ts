import { text } from 'node:stream/consumers';
import { expect, it } from 'vitest';
import { start } from '../commands/run.ts';
import { keyed, kitchen, serve } from './serving.ts';

const SLUG = 'twelfth-night-old';

/** A command as a process of its own. */
async function runAlone(
  name: string,
  args: readonly string[],
): Promise<{ code: number | null; out: string }> {
  const child = start(name, args);
  const code = new Promise<number | null>((resolve, reject) =>
    child.on('error', reject).on('close', resolve),
  );
  return { out: await text(child.stdout!), code: await code };
}

it('what the form saves and what the command saves at the same time is both in the file, or the loser is told', async () => {
  const room = kitchen([SLUG]);
  const served = await serve(room.content);
  const untouched = room.text(SLUG);
  const met = new Set<string>();
  try {
    for (let round = 0; round < 6; round += 1) {
      room.write(SLUG, untouched);
      let ended = false;
      const command = runAlone('key-in', [
        '--content',
        room.content,
        SLUG,
        '--set',
        'boil_started=14:50',
      ]).finally(() => {
        ended = true;
      });
      let was = '';
      for (let minute = 10; !ended; minute = minute === 59 ? 10 : minute + 1) {
        const time = `13:${minute}`;
        const reply = await served.post(
          `/batches/${SLUG}/key-in/`,
          keyed(SLUG, { heating_started: time }, { heating_started: was }),
        );
        expect([200, 409], reply.body).toContain(reply.status);
        if (reply.status === 200) was = time;
        else expect(reply.body).toContain('"kind":"changed"');
        met.add(`form ${reply.status}`);
      }
      const { code, out } = await command;
      if (code !== 0) expect(out).toContain('changed by something else');
      met.add(`command ${code}`);
      const file = room.text(SLUG);
      expect(file.includes('  boil_started: 14:50\n')).toBe(code === 0);
      expect(file).toContain(`  heating_started: ${was}\n`);
    }
  } finally {
    await served.close();
    room.remove();
  }
  expect(met.has('form 200')).toBe(true);
}, 300_000);
