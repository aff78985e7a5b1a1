import { parentPort } from 'node:worker_threads';
import { createJiti } from 'jiti';

const jiti = createJiti(import.meta.url);

parentPort.on('message', async (options) => {
  const { runRound } = await jiti.import('./round.ts');
  parentPort.postMessage(await runRound(options));
});
