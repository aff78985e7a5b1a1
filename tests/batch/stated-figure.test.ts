/** How well a stated figure of the kit is known: half the default's share of it, unless it says so itself. */
import { describe, expect, it } from 'vitest';
import { brimFigure, statedFigure } from '../../lib/batch/model/stated-figure.ts';

const said = (value: number, u: number | null = null) => ({ value, u, written: `${value}` });

describe('a stated figure', () => {
  // Defaults: heat 1.5 ± 0.2 kW, tap water 12 ± 3 °C, altitude 0 ± 100 m.
  it.each([null, undefined])('that is not stated (%s) is the default, marked as assumed', (nothing) => {
    expect(statedFigure('heat', nothing)).toEqual({ value: 1.5, u: 0.2, written: null, assumed: true });
  });

  it('is known to half the default’s share of it: 3 kW to half of 0.2 / 1.5', () => {
    expect(statedFigure('heat', said(3))).toEqual({
      value: 3,
      u: expect.closeTo(0.2, 12),
      written: '3',
      assumed: false,
    });
  });

  it('with its own ± keeps it, a ± 0 too', () => {
    expect(statedFigure('heat', said(3, 0.7)).u).toBe(0.7);
    expect(statedFigure('heat', said(3, 0)).u).toBe(0);
  });

  it('of a temperature or a height is known to half the default’s amount, however large it is', () => {
    for (const key of ['water_temperature', 'altitude'] as const) {
      const { u } = statedFigure(key, null);
      expect(u).toBeGreaterThan(0);
      expect(statedFigure(key, said(6)).u).toBeCloseTo(u / 2, 12);
      expect(statedFigure(key, said(1600)).u).toBeCloseTo(u / 2, 12);
    }
  });

  it('of what varies from brew to brew is known no better than the default: 1.5 L/h to 0.4 / 2.5', () => {
    expect(statedFigure('boil_off', said(1.5)).u).toBeCloseTo((0.4 / 2.5) * 1.5, 12);
    expect(statedFigure('boil_off', said(1.5, 0.1)).u).toBe(0.1);
  });

  it('below nothing is as uncertain as above it', () => {
    expect(statedFigure('heat', said(-3)).u).toBeCloseTo(0.2, 12);
  });
});

describe('a brim', () => {
  it('is out by a fiftieth, unless it says by what', () => {
    expect(brimFigure(said(15))).toEqual({
      value: 15,
      u: expect.closeTo(0.3, 12),
      written: '15',
      assumed: false,
    });
    expect(brimFigure(said(15, 0.1)).u).toBe(0.1);
  });
});
