/**
 * Every figure that is taken where the brewer states none, in one table: value, standard uncertainty, reason.
 *
 * All are common practice, from memory, unless the reason names a source; each can be overridden in
 * `content/setups.yaml` (the figure itself, or with ` ± ` its uncertainty), and the sheet marks what was assumed.
 */
export interface Default {
  readonly value: number;
  /** Standard uncertainty in the same unit. */
  readonly u: number;
  readonly unit: string;
  /** Words for the sheet. */
  readonly label: string;
  readonly reason: string;
  /** The same for a brewer in US units, where it names a quantity. */
  readonly inGallons?: string;
}

/** Figures of the setup, by their key in `setups.yaml` (dots for nested keys). */
export const SETUP_DEFAULTS = {
  heat: {
    value: 1.5,
    u: 0.2,
    unit: 'kW',
    label: 'heat that reaches the liquid',
    reason: 'a large household ring of 2 to 2.5 kW at 60 to 70 % efficiency',
  },
  boil_off: {
    value: 2.5,
    u: 0.4,
    unit: 'L/h',
    label: 'boil-off',
    reason: 'a rolling boil in an open pot of 28 to 34 cm; lids, draughts and width change it by a third',
    inGallons:
      'a rolling boil in an open pot of 11 to 13 inches; lids, draughts and width change it by a third',
  },
  kettle_loss: {
    value: 0.5,
    u: 0.25,
    unit: 'L',
    label: 'left in the kettle with the trub',
    reason: 'poured or siphoned off the trub, not strained',
  },
  hop_absorption: {
    value: 6,
    u: 1.5,
    unit: 'L/kg',
    label: 'wort held by the hops',
    reason: 'pellets settle denser than leaf; published home trials spread from 4 to 10',
    inGallons: 'pellets settle denser than leaf; published home trials spread from 2 to 5',
  },
  grain_absorption: {
    value: 0.9,
    u: 0.15,
    unit: 'L/kg',
    label: 'water held by the grain',
    reason: 'drained in a bag, not squeezed',
  },
  fermenter_loss: {
    value: 0.7,
    u: 0.3,
    unit: 'L',
    label: 'left on the yeast',
    reason: 'the yeast cake of a 20 L batch and what the tap or siphon does not reach',
    inGallons: 'the yeast cake of a 5 gal batch and what the tap or siphon does not reach',
  },
  steep_efficiency: {
    value: 0.5,
    u: 0.12,
    unit: '1',
    label: 'steep efficiency',
    reason:
      'crushed crystal and roast malt in a bag for 20 to 30 min; crush, stirring and draining make it a quarter more or less',
  },
  mash_efficiency: {
    value: 0.7,
    u: 0.05,
    unit: '1',
    label: 'mash efficiency',
    reason: 'a bag mash with a short rinse',
  },
  'chill.to': {
    value: 22,
    u: 2,
    unit: '°C',
    label: 'chilled to',
    reason: 'a water bath with one or two changes of water',
  },
  'chill.in': { value: 40, u: 10, unit: 'min', label: 'chilled in', reason: 'as above, lid on' },
  water_temperature: {
    value: 12,
    u: 3,
    unit: '°C',
    label: 'tap water',
    reason: 'mains water of a temperate climate through the year',
  },
  top_up_temperature: {
    value: 12,
    u: 3,
    unit: '°C',
    label: 'top-up water',
    reason: 'as from the tap',
  },
  room_temperature: { value: 20, u: 2, unit: '°C', label: 'room', reason: 'a heated kitchen' },
  altitude: { value: 0, u: 100, unit: 'm', label: 'altitude', reason: 'near sea level' },
  'hydrometer.at': {
    value: 20,
    u: 0,
    unit: '°C',
    label: 'hydrometer calibrated at',
    reason: 'the usual calibration of hydrometers sold now; older ones say 60 °F',
  },
  'hydrometer.step': {
    value: 0.002,
    u: 0,
    unit: 'SG',
    label: 'hydrometer graduation',
    reason: 'a triple-scale home hydrometer',
  },
  refractometer_factor: {
    value: 1.04,
    u: 0.02,
    unit: '1',
    label: 'refractometer factor',
    reason: 'published values run from 1.00 to 1.06',
  },
  'uncertainty.kettle_mark': {
    value: 0,
    u: 0.25,
    unit: 'L',
    label: "the kettle's volume mark",
    reason: 'half the distance between marks half a litre apart, through steam',
  },
  'uncertainty.fermenter_mark': {
    value: 0,
    u: 0.3,
    unit: 'L',
    label: "the fermenter's volume mark",
    reason: 'moulded marks a litre apart, read to a quarter, and themselves out by as much',
  },
  'uncertainty.scale': {
    value: 1,
    u: 0.01,
    unit: '1',
    label: 'the kitchen scale',
    reason: 'household scales, never checked: 10 g in 1 kg',
  },
  'uncertainty.thermometer': {
    value: 0,
    u: 0.6,
    unit: 'K',
    label: 'the thermometer',
    reason: 'digital kitchen thermometers are sold as ± 1 °C; rectangular, 1/√3',
  },
} as const satisfies Record<string, Default>;
export type SetupDefaultKey = keyof typeof SETUP_DEFAULTS;

/** What varies from brew to brew varies for brewers who have measured it too: a stated figure is no surer than the default. */
export const VARIES: ReadonlySet<SetupDefaultKey> = new Set<SetupDefaultKey>([
  'boil_off',
  'kettle_loss',
  'hop_absorption',
  'grain_absorption',
  'fermenter_loss',
  'steep_efficiency',
  'mash_efficiency',
]);
/** A figure that does not vary and is stated without `±` was measured: half of what the default is uncertain by. */
export const STATED_FIGURE_SHARE = 0.5;

/** A gravity is written to the thousandth: rectangular, 1/√12 of it. */
const WRITTEN_u_SG = 0.001 / Math.sqrt(12);
/** The sample's temperature and its correction, from 10 to 25 °C: a degree is a quarter of a point. Derived from the density of wort. */
const SAMPLE_u_SG = 0.0003;

/**
 * Standard uncertainty of one hydrometer reading: half a graduation (ISO 649 class limits are about one division, from memory),
 * what writing it down hides, and its sample's temperature.
 */
export function hydrometerUncertainty(step_SG: number): number {
  return Math.hypot(step_SG / 2, WRITTEN_u_SG, SAMPLE_u_SG);
}

/** Uncertainties of ingredients and of the formulas themselves, relative unless the unit says otherwise. */
export const INPUT_DEFAULTS = {
  'yield.liquid extract': {
    value: 1,
    u: 0.015,
    unit: '1',
    label: 'yield',
    reason: 'solids of malt syrup are sold as 78 to 82 %',
  },
  'yield.dry extract': {
    value: 1,
    u: 0.01,
    unit: '1',
    label: 'yield',
    reason: 'moisture of spray-dried extract 2 to 5 %',
  },
  'yield.grain': {
    value: 1,
    u: 0.02,
    unit: '1',
    label: 'yield',
    reason: 'laboratory extract varies by harvest by 1 to 2 points',
  },
  'yield.sugar': {
    value: 1,
    u: 0.005,
    unit: '1',
    label: 'yield',
    reason: 'refined sugar is nearly pure; honey and syrups are stated by the table',
  },
  colour: {
    value: 1,
    u: 0.1,
    unit: '1',
    label: 'colour',
    reason: 'malt is sold in colour bands of about ± 20 %',
  },
  alpha: {
    value: 1,
    u: 0.08,
    unit: '1',
    label: 'alpha acids',
    reason: 'analysis of the lot ± 5 %, ageing in the packet',
  },
  attenuation: {
    value: 0,
    u: 0.02,
    unit: '1',
    label: 'attenuation',
    reason: 'apparent, as suppliers state it of a yeast: bands of about four points each way',
  },
  wort: {
    value: 0,
    u: 0.025,
    unit: '1',
    label: 'how far the wort lets a yeast go',
    reason:
      'apparent attenuation: extract and mash differ by some five points each way, and nobody states by how much',
  },
  fermentability: {
    value: 1,
    u: 0.08,
    unit: '1',
    label: 'fermentability',
    reason: 'crystal and roast malts were measured by few, with wide spread',
  },
  tinseth: {
    value: 1,
    u: 0.1,
    unit: '1',
    label: 'the bitterness formula',
    reason: 'measured bitterness scatters by about ± 20 % about the published curve',
  },
  morey: {
    value: 1,
    u: 0.08,
    unit: '1',
    label: 'the colour formula',
    reason: 'a fit to few beers; extract darkens in the tin and in the boil',
  },
  maltHeat: {
    value: 1.7,
    u: 0.1,
    unit: 'kJ/kgK',
    label: "the grain's heat capacity",
    reason: 'Choi and Okos 1986 gives 1.74 to 1.80; practice 1.6 to 1.7',
  },
  bathEffectiveness: {
    value: 0.6,
    u: 0.1,
    unit: '1',
    label: "the ice bath's effectiveness",
    reason: 'part of the ice cools the room and the tub',
  },
  bathApproach: {
    value: 20,
    u: 5,
    unit: 'K',
    label: 'where the water bath leaves it',
    reason: 'a still bath of tap water, changed once',
  },
  warmest: {
    value: 0,
    u: 1,
    unit: 'K',
    label: 'the warmest temperature',
    reason: 'a room follows its thermostat within about a degree or two',
  },
  co2Yield: {
    value: 0.96,
    u: 0.023,
    unit: '1',
    label: "the sugar's gas",
    reason: 'yeast growth takes 0 to 8 % of it',
  },
  beerSolubility: {
    value: 1,
    u: 0.02,
    unit: '1',
    label: 'gas held by beer',
    reason: 'beer holds 1 to 5 % less than water',
  },
  kegSolubility: {
    value: 0,
    u: 0.015,
    unit: '1',
    label: 'gas held by cold beer',
    reason: 'two published charts give 12.3 psi for 2.5 vol at 40 °F, from memory',
  },
  pitchingRate: {
    value: 1,
    u: 0.2,
    unit: '1',
    label: 'the pitching rate',
    reason: 'a rule of the trade, not a law',
  },
} as const satisfies Record<string, Default>;
export type InputDefaultKey = keyof typeof INPUT_DEFAULTS;

/** Left in a pot in which nothing was boiled, steeped or hopped: what clings to it. Common practice, from memory. */
export const NO_TRUB_LOSS = { value: 0.05, u: 0.05 } as const;
/** Wet grain in the pot takes about this room. Common practice, from memory. */
export const ASSUMED_GRAIN_DISPLACEMENT_L_per_kg = 0.7;
/** Fullest moment above which a pot is likely to boil over: the whole-volume boil is given up, and there is a warning. */
export const FILL_WARNING = 0.85;
/** Wort at the rim. */
export const FILL_LIMIT = 1;
/** Wort may fill so much of the fermenter; the rest is for the foam. Common practice, no source. */
export const FERMENTER_FULL = 0.9;
/** Stirring extract in with the flame off, before the flame goes on again. */
export const ASSUMED_STIR_MIN = 3;
/** Draining the grain bag over the pot. */
export const ASSUMED_DRAIN_MIN = 5;
/** Days until the bulk of fermentation is over, at ale and at lager temperatures. Common practice, from memory. */
export const ASSUMED_FERMENTING_DAYS = { warm: 5, cold: 10, coldBelow_C: 15 } as const;
/** CO2 that single-use beer bottles are commonly taken to stand. Common practice, no source. */
export const ASSUMED_BOTTLE_LIMIT_VOL = 3;
/** A dry pack and a liquid pack, where the recipe states none. Common practice, from memory. */
export const ASSUMED_DRY_PACK_G = 11;
export const ASSUMED_DRY_CELLS_BILLION_PER_G = 10;
export const ASSUMED_LIQUID_PACK_BILLION = 100;
export const ASSUMED_SLURRY_BILLION_PER_ML = 1;

/**
 * What a fermentation is expected to do before its gravities are read: the prior of the fitted curve. All are common practice,
 * from memory; their wide uncertainties are shares, so that readings soon outweigh them.
 */
export const FERMENTATION_DEFAULTS = {
  halfFall: {
    value: 2.2,
    u: 1,
    unit: 'days',
    label: 'half of the fall is done after',
    reason: 'ales at 20 °C foam most on the second day; pitch, air and yeast change it by half either way',
  },
  twiceAsSlow: {
    value: 8,
    u: 0,
    unit: 'K',
    label: 'twice as slow for each',
    reason: 'lagers at 10 °C take five or six days to the half, kveik at 35 °C half a day to a day',
  },
  tail: {
    value: 1.3,
    u: 0.5,
    unit: '1',
    label: 'rate of the tail, per time to the half',
    reason:
      'an ale half done on the second day has one twentieth left after some four days more, or after two',
  },
  shape: {
    value: 2.5,
    u: 1.75,
    unit: '1',
    label: 'how much longer the tail is than the start',
    reason:
      'published curves of breweries are even (1); at home, much yeast in little wort starts at once and tails off',
  },
  misfit: {
    value: 0,
    u: 0.015,
    unit: '1',
    label: 'how far a beer strays from any such curve, of its fall',
    reason: 'temperature wanders and sugars are eaten one after another: half a point in thirty',
  },
  hour: {
    value: 0.5,
    u: 0.2,
    unit: 'days',
    label: 'hour of a reading with no hour',
    reason: 'read between the morning and the evening: 14 hours, rectangular',
  },
} as const satisfies Record<string, Default>;
