/** 0 °C on the thermodynamic scale, exact. */
export const ZERO_CELSIUS_K = 273.15;

/** Gas constant, L atm/(mol K): 8.314462618 J/(mol K), exact since 2019, over 101.325 J/(L atm). */
export const GAS_CONSTANT_L_atm_per_molK = 8.314462618 / 101.325;
