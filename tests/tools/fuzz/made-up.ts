/** Batch files that follow the format, with figures from the whole range of a kitchen and beyond it. */
import fc from 'fast-check';

const figure = (low: number, high: number, unit: string): fc.Arbitrary<string> =>
  fc
    .double({ min: Math.log(low), max: Math.log(high), noNaN: true })
    .map((power) => `${Number(Math.exp(power).toPrecision(3))}${unit}`);
const whole = (low: number, high: number, unit: string): fc.Arbitrary<string> =>
  fc.integer({ min: low, max: high }).map((n) => `${n}${unit}`);
const word = fc.constantFrom('pale malt', 'Fuggle', 'Goldings', 'orange peel', 'honey', 'plum', 'a name');

/** Keys with values, some left out, as one group in braces. */
function group(keys: Readonly<Record<string, fc.Arbitrary<string>>>, required: readonly string[]) {
  return fc.record(keys, { requiredKeys: [...required] }).map((values) => {
    const parts = Object.entries(values).map(([key, value]) => `${key}: ${value}`);
    return `{ ${parts.join(', ')} }`;
  });
}

const list = (key: string, item: fc.Arbitrary<string>, most: number): fc.Arbitrary<string> =>
  fc
    .array(item, { maxLength: most })
    .map((items) =>
      items.length === 0 ? '' : `  ${key}:\n${items.map((one) => `    - ${one}\n`).join('')}`,
    );

const minutes = fc.oneof(whole(0, 90, ' min'), fc.constantFrom('60 min', '60 min', '20 min', '0 min'));
const moment = fc.oneof(minutes, fc.constantFrom('flameout', 'stand', 'first wort'));
const figures = {
  yield: figure(20, 100, ' %'),
  colour: figure(0.5, 1500, ' EBC'),
  fermentability: figure(10, 100, ' %'),
};
const described = Object.keys(figures);

const grain = group(
  { name: word, weight: figure(1, 4000, ' g'), in: fc.constantFrom('steep', 'mash'), ...figures },
  ['name', 'weight', 'in', ...described],
);
const extract = group({ name: word, weight: figure(1, 4000, ' g'), add: moment, ...figures }, [
  'name',
  'weight',
  ...described,
]);
const hop = group(
  {
    name: word,
    weight: figure(0.1, 900, ' g'),
    alpha: figure(0.1, 25, ' %'),
    form: fc.constantFrom('leaf', 'pellet'),
    add: fc.oneof(moment, fc.constant('dry, day: 5, for: 3 days')),
  },
  ['name', 'weight', 'alpha', 'add'],
);
const yeast = group(
  {
    name: word,
    form: fc.constantFrom('dry', 'liquid'),
    amount: figure(0.5, 200, ' g'),
    attenuation: figure(20, 98, ' %'),
    temperature: fc.constantFrom('17-21 °C', '8-12 °C', '20 °C'),
  },
  ['name', 'form', 'amount', 'attenuation'],
);
const step = group({ temperature: whole(2, 40, ' °C'), time: whole(1, 90, ' days') }, [
  'temperature',
  'time',
]);
const packaging = group(
  {
    into: fc.constantFrom('bottles', 'keg'),
    carbonation: figure(0.5, 5, ' vol'),
    sugar: fc.constantFrom('table sugar', 'honey', 'dextrose'),
    bottle: figure(100, 3000, ' ml'),
    limit: figure(1, 6, ' vol'),
    temperature: whole(1, 25, ' °C'),
  },
  ['into', 'carbonation'],
);
const gravity = fc
  .tuple(fc.integer({ min: 980, max: 1180 }), fc.option(whole(0, 100, ' °C')))
  .map(([points, at]) => `${(points / 1000).toFixed(3)}${at === null ? '' : ` @ ${at}`}`);
const taken = (read: fc.Arbitrary<string>): fc.Arbitrary<string> => fc.oneof(read, fc.constant('not taken'));
const readings = fc
  .record(
    {
      boil_start_volume: taken(figure(1, 40, ' L')),
      boil_start_gravity: taken(gravity),
      boil_end_volume: taken(figure(1, 40, ' L')),
      boil_end_gravity: taken(gravity),
      original_gravity: taken(fc.oneof(gravity, figure(1, 40, ' Bx'))),
      fermenter_volume: taken(figure(1, 40, ' L')),
      warmest_after: taken(whole(0, 40, ' °C')),
      final_gravity: taken(gravity),
    },
    { requiredKeys: [] },
  )
  .map((keys) => {
    const lines = Object.entries(keys).map(([key, value]) => `  ${key}: ${value}\n`);
    return lines.length === 0 ? '' : `readings:\n${lines.join('')}`;
  });
const optional = (key: string, value: fc.Arbitrary<string>): fc.Arbitrary<string> =>
  fc.oneof(
    fc.constant(''),
    value.map((one) => `  ${key}: ${one}\n`),
  );

const batch = fc
  .tuple(
    figure(3, 30, ' L').map((volume) => `  into_fermenter: ${volume}\n`),
    minutes.map((boil) => `  boil: ${boil}\n`),
    optional('boil_volume', figure(4, 16, ' L')),
    optional('steep', group({ temperature: whole(20, 100, ' °C'), time: minutes }, ['temperature', 'time'])),
    optional(
      'mash',
      group({ temperature: whole(40, 90, ' °C'), time: minutes, ratio: figure(0.5, 9, ' L/kg') }, [
        'temperature',
        'time',
        'ratio',
      ]),
    ),
    optional('stand', group({ temperature: whole(30, 101, ' °C'), time: minutes }, ['temperature', 'time'])),
    list('grain', grain, 3),
    list('extract', extract, 3),
    list('hops', hop, 5),
    list('yeast', yeast, 2),
    list('ferment', step, 3),
    optional('package', packaging),
    readings,
  )
  .map((parts) => coherent(parts.join('')))
  .map((text) => `---\ntitle: Made up\nsetup: stove\nbrewed: 2026-02-14\nrecipe:\n${text}---\n`);

/** Mends what the format would refuse at once, so that the planner is reached: nine times out of ten. */
function coherent(text: string): string {
  if (text.length % 10 === 0) return text;
  const boil = Number(/^ {2}boil: (\d+)/m.exec(text)?.[1] ?? 0);
  const within = text.replace(
    /add: (\d+) min/g,
    (_, left: string) => `add: ${Math.min(Number(left), boil)} min`,
  );
  const steeped = /^ {2}mash:/m.test(within) ? within : within.replaceAll('in: mash', 'in: steep');
  const missing = [
    /in: steep/.test(steeped) && !/^ {2}steep:/m.test(steeped)
      ? '  steep: { temperature: 68 °C, time: 20 min }\n'
      : '',
    /add: stand/.test(steeped) && !/^ {2}stand:/m.test(steeped)
      ? '  stand: { temperature: 80 °C, time: 20 min }\n'
      : '',
  ];
  return missing.join('') + steeped;
}

/** So many batch files; the same seed gives the same ones. */
export const madeUp = (count: number, seed: number): readonly Buffer[] =>
  fc.sample(batch, { seed, numRuns: count }).map((text) => Buffer.from(text));
