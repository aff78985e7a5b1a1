export const PHASES = ['gather', 'heat', 'steep', 'mash', 'boil', 'stand', 'chill', 'read', 'pitch'] as const;
export type Phase = (typeof PHASES)[number];

/** Acts that a timetable row can ask for; their words are made in `lib/words`. */
export const ACTIONS = [
  'prepare', // the day before and before the kettle goes on
  'sanitise',
  'weigh',
  'fill',
  'heat',
  'grain in',
  'hold',
  'grain out', // lift and drain, never squeeze
  'rinse',
  'flame off',
  'stir in',
  'flame on',
  'boil begins',
  'watch', // for a boil-over
  'add',
  'flame out',
  'stand',
  'chill',
  'transfer',
  'top up',
  'read',
  'air',
  'pitch',
  'seal',
] as const;
export type Action = (typeof ACTIONS)[number];
