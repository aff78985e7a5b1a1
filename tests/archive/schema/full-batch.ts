/** A batch file with every key that there is, in one form or another. */
export const FULL_BATCH = `---
title: Lantern Brown
number: 12
brewed: 2026-02-14
start: 13:30
setup: stove
style: Brown ale
tags: [towpath, given-away]
based_on: lantern-brown-1
publish: recipe
private: |
  what you paid and whom it is for
recipe:
  into_fermenter: 19 L
  boil: 60 min
  boil_volume: 10.5 L
  steep: { temperature: 68 °C, time: 20 min, water: 4 L }
  mash: { temperature: 66 °C, time: 60 min, ratio: 3 L/kg }
  rinse: 2 L
  grain:
    - { name: crystal malt 150, weight: 350 g, in: steep, colour: 57 °L, note: crushed }
    - { name: pale malt, weight: 500 g, in: mash, yield: 80 %, fermentability: 100 % }
  extract:
    - { name: pale liquid extract, weight: 1.5 kg }
    - { name: pale liquid extract, weight: 1.1 kg, add: 12 min, form: liquid }
    - { name: hopped kit extract, weight: 1 kg, add: 5 min, yield: 79 %, colour: 20 EBC, bitterness: 25 IBU in 23 L for 1.7 kg }
  sugar:
    - { name: table sugar, weight: "0,25 kg", add: flameout }
    - { name: table sugar, weight: 100 g, add: fermenter, day: 3 }
  hops:
    - { name: Fuggle, weight: 30 ± 1 g, alpha: 4.6 %, add: 60 min }
    - { name: Fuggle, weight: 5 g, alpha: 4-5 %, add: first wort, form: leaf }
    - { name: Fuggle, weight: 20 g, add: stand, form: pellet }
    - { name: Fuggle, weight: 25 g, add: dry, day: 7, for: 3 days, note: in a bag }
  stand: { temperature: 80 °C, time: 20 min }
  other:
    - { name: kettle finings, amount: 1, add: 10 min, note: half a tablet is enough for 10 L }
    - { name: bitter orange peel, amount: 15 g, add: flameout }
    - { name: yeast nutrient, amount: 1 tsp, add: 10 min }
    - { name: oak, amount: 20 g, add: dry, day: 10, for: 14 days }
  yeast:
    - { name: English ale, form: dry, amount: 11 g, attenuation: 75 %, temperature: 17-21 °C, kind: ale, pack: 11 g, cells: 10 billion/g, note: sprinkled }
  ferment:
    - { temperature: 19 °C, time: 14 days }
    - { temperature: 12 °C, time: 7 days }
  package:
    - { into: bottles, carbonation: 2.3 vol, sugar: table sugar, bottle: 500 ml, limit: 4 bar, volume: 9 L }
    - { into: keg, carbonation: 4.5 g/L, temperature: 5 °C, volume: 9 L }
readings:
  heating_started: 13:35
  steep_in: 14:05
  steep_temperature: 67 °C
  steep_out: 14:25
  mash_in: not taken
  mash_temperature: not taken
  mash_out: not taken
  boil_started: 14:50
  boil_start_volume: 10.8 L
  boil_start_gravity: 1.042 @ 45 °C
  additions: [ { at: 60 min, clock: 14:50 }, { at: flameout, clock: not taken } ]
  boil_ended: 15:55
  boil_end_volume: 9.7 L @ 60 °C
  boil_end_gravity: 22.5 Bx
  chilled: { at: 16:40, temperature: 24 °C }
  top_up: { volume: 10.5 L, temperature: 9 °C }
  original_gravity: 1.050
  fermenter_volume: 19 L
  pitched: { on: 2026-02-14 17:20, temperature: 19 °C, yeast: 11 g }
  fermentation:
    - { on: 2026-02-18 08:00, gravity: 1.019 @ 20 °C, temperature: 19 °C, note: krausen falling }
    - { on: 2026-02-19, gravity: not taken }
  warmest_after: 20 °C
  final_gravity:
  packaged:
    - { on: 2026-03-01, into: bottles, volume: 9 L, temperature: 18 °C, sugar: 50 g, bottles: 18 }
    - { on: 2026-03-01, into: keg, volume: 9 L, sugar: 0 g }
  tasted:
    - { on: 2026-03-24, score: 3.5, note: bread crust and a dry end }
  abandoned: { on: 2026-04-01, why: it was time }
---
What I would change.
`;

/** A kit with every key that there is. */
export const FULL_SETUPS = `stove:
  title: Gas ring and the 15 L pot
  kettle: 15 L
  heats: { volume: 10 L, from: 20 °C, to: 95 °C, in: 45 min }
  boil_off: 2.2 ± 0.3 L/h
  kettle_loss: 0.5 L
  hop_absorption: 6 L/kg
  grain_absorption: 0.9 L/kg
  fermenter: 25 L
  fermenter_loss: 0.7 L
  steep_efficiency: 50 %
  mash_efficiency: 70 %
  chill: { to: 22 °C, in: 25 min, with: ice bath }
  water_temperature: 12 °C
  top_up_temperature: 8 °C
  room_temperature: 20 °C
  altitude: 150 m
  hydrometer: { at: 60 °F, step: 0.001 }
  refractometer_factor: 1.04 ± 0.01
  sanitiser: { dose: 1.5 ml/L, make: 8 L, note: as on your label }
  uncertainty: { kettle_mark: 0.3 L, fermenter_mark: 0.2 L, scale: 1 %, thermometer: 1 °F }
  learned: use
`;
