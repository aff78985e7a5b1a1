import { localDay } from '../batch/types/time.ts';
/**
 * The day that plans are looked at on: as asked, else SOURCE_DATE_EPOCH in UTC (reproducible-builds.org, from memory), else the
 * machine's own.
 */
export function dayOf(
  asked: string | undefined,
  env: Readonly<Record<string, string | undefined>> = process.env,
  now: Date = new Date(),
): string {
  if (asked !== undefined) return asked;
  const epoch = env.SOURCE_DATE_EPOCH ?? '';
  return /^\d{1,11}$/.test(epoch) ? new Date(Number(epoch) * 1000).toISOString().slice(0, 10) : localDay(now);
}
