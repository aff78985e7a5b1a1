import { dayOfShareLeftSpeers2003, shareLeftSpeers2003 } from '../../lib/formulas/fermentation-curve.ts';
import { type CaseTable, rows, table } from './case.ts';

const PUBLICATION = 'Speers, Rogers & Smith 2003, J. Inst. Brew. 109:229; shape after Richards 1959';

interface At {
  readonly rate: number;
  readonly shape: number;
  readonly day: number;
}

/** All about an inflection on day 2. */
const M = 2;
const left = ({ rate, shape, day }: At): number =>
  shareLeftSpeers2003({ inflection_d: M, rate_per_d: rate, shape })(day);

const CLOSED_FORM = {
  source: 'the published equation at points where it is a plain fraction, by hand',
  provenance: 'derived',
  tolerance: 1e-12,
  reason: 'exact but for rounding',
} as const;

/** Where e^(B (t − M)) is a number q: the share is (1 + s q)^(−1/s). */
const where = (q: number, rate: number): number => M + Math.log(q) / rate;

export const tables: readonly CaseTable[] = [
  table({
    name: 'Gravity while it ferments',
    formula: 'shareLeftSpeers2003',
    publication: PUBLICATION,
    range: 'any time; shape 0.01 to 100',
    unit: 'of the fall',
    practice: 'how far a beer strays is assumed: 1.5 % of the fall',
    compute: left,
    cases: [
      ...rows<At>(CLOSED_FORM, [
        // Even on both sides of its inflection, where half is left.
        [{ rate: 1.5, shape: 1, day: M }, 1 / 2],
        [{ rate: 1.5, shape: 1, day: where(3, 1.5) }, 1 / 4],
        [{ rate: 1.5, shape: 1, day: where(1 / 3, 1.5) }, 3 / 4],
        [{ rate: 0.4, shape: 1, day: where(9, 0.4) }, 1 / 10],
        // The inflection of any shape is at (1 + s)^(−1/s).
        [{ rate: 1.5, shape: 2, day: M }, 1 / Math.sqrt(3)],
        [{ rate: 1.5, shape: 0.5, day: M }, 4 / 9],
        [{ rate: 1.5, shape: 2, day: where(1.5, 1.5) }, 1 / 2],
        [{ rate: 1.5, shape: 2, day: where(12, 1.5) }, 1 / 5],
        [{ rate: 0.7, shape: 0.5, day: where(2, 0.7) }, 1 / 4],
        [{ rate: 0.7, shape: 0.5, day: where(4, 0.7) }, 1 / 9],
        // Long before and long after.
        [{ rate: 1.5, shape: 2.5, day: -1e4 }, 1],
        [{ rate: 1.5, shape: 2.5, day: 1e4 }, 0],
      ]),
      ...rows<At>(
        {
          source: 'exponential decline at 0.5 a day after a lag, the limit of a large shape',
          provenance: 'derived',
          tolerance: 1e-9,
          reason: 'e^(−50) and less of the start are left two days after the lag',
        },
        [
          [{ rate: 50, shape: 100, day: M - Math.log(100) / 50 + 2 }, Math.exp(-1)],
          [{ rate: 50, shape: 100, day: M - Math.log(100) / 50 + 6 }, Math.exp(-3)],
        ],
      ),
      ...rows<At>(
        {
          source: 'exp(−e^(B (t − M))), the limit of a small shape',
          provenance: 'derived',
          tolerance: 0.002,
          reason: 'the next term of the series is s q²/2 e^(−q), 0.0018 at a shape of 0.01',
        },
        [[{ rate: 1, shape: 0.01, day: M }, Math.exp(-1)]],
      ),
    ],
  }),
  table({
    name: 'When the gravity has fallen so far',
    formula: 'dayOfShareLeftSpeers2003',
    publication: PUBLICATION,
    range: 'share above 0 and below 1',
    unit: 'days',
    compute: ({ rate, shape, share }: { rate: number; shape: number; share: number }) =>
      dayOfShareLeftSpeers2003({ inflection_d: M, rate_per_d: rate, shape, share }),
    cases: [
      ...rows(CLOSED_FORM, [
        [{ rate: 1.5, shape: 1, share: 1 / 2 }, M],
        [{ rate: 0.4, shape: 1, share: 1 / 10 }, where(9, 0.4)],
        [{ rate: 1.5, shape: 2, share: 1 / 5 }, where(12, 1.5)],
        [{ rate: 0.7, shape: 0.5, share: 1 / 9 }, where(4, 0.7)],
      ]),
      ...rows(
        {
          source: 'exponential decline after a lag: ln(1/share) over the rate of the tail',
          provenance: 'derived',
          tolerance: 1e-9,
          reason: 'exact but for e^(−50) of the start',
        },
        [[{ rate: 50, shape: 100, share: 0.001 }, M - Math.log(100) / 50 + Math.log(1000) / 0.5]],
      ),
    ],
  }),
];
