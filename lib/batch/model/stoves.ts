/**
 * What reaches the liquid from the stoves of a kitchen, for a brewer who knows no kilowatts: the power that such rings and plates
 * are sold with, times the share that gets into a pot (a little less than half from gas, three quarters from a plate, more from
 * induction). Standard uncertainty in the same unit. Common practice, no source; how long one's own pot takes is better.
 */
export const STOVES = {
  'small gas ring': { heat_kW: 0.9, u_kW: 0.2 },
  'large gas ring': { heat_kW: 1.5, u_kW: 0.3 },
  'electric plate': { heat_kW: 1.4, u_kW: 0.2 },
  induction: { heat_kW: 1.8, u_kW: 0.2 },
} as const;
export type Stove = keyof typeof STOVES;
