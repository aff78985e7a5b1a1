/** What the tests use of packages that bring no types of their own (or types that strict mode refuses). */
declare module 'culori' {
  export function converter(
    mode: 'rgb',
  ): (colour: { mode: 'xyz65'; x: number; y: number; z: number }) => { r: number; g: number; b: number };
}

declare module '@neutrium/thermo.eos.iapws97' {
  export class IAPWS97_EoS {
    /** Pressure in Pa and temperature in K. */
    solve(inputs: { p: number; t: number }): { rho: number; h: number; cp: number };
  }
}

declare module '@neutrium/thermo.eos.iapws97/dist/PT.js' {
  /** Saturation pressure in MPa of a temperature in K, and the reverse. */
  export function r4_T_Psat(t: number): number;
  export function r4_P_Tsat(p: number): number;
}
