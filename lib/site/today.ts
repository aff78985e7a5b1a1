/** A machine's own day, `2026-02-14`. */
const dayOn = (now: Date): string =>
  [now.getFullYear(), now.getMonth() + 1, now.getDate()]
    .map((part) => String(part).padStart(2, '0'))
    .join('-');

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
  return /^\d{1,11}$/.test(epoch) ? new Date(Number(epoch) * 1000).toISOString().slice(0, 10) : dayOn(now);
}
