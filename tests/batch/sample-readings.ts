/** Readings as a brewer keys them in, for tests that need no file. */
import type { GivenGravity, GivenVolume } from '../../lib/units/parse/given.ts';

/** A hydrometer's, at 20 °C where nothing else is said. */
export const sg = (value: number, sample_C: number | null = 20, u: number | null = null): GivenGravity => ({
  scale: 'sg',
  value,
  u,
  sample_C,
  written: value.toFixed(3),
});

/** Litres as if at 20 °C where nothing else is said; null: as hot as they usually are. */
export const litres = (value: number, at_C: number | null = 20, u: number | null = null): GivenVolume => ({
  value,
  u,
  at_C,
  written: `${value} L`,
});

/** The rows of a log, `2 1.025, 4 1.016`: day and gravity, and the beer's temperature where there is a third figure. */
export const days = (text: string) =>
  text
    .split(', ')
    .map((row) => row.split(' ').map(Number) as unknown as readonly [day: number, sg: number, t_C?: number]);
