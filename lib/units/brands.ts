/**
 * Branded quantities: a number that the type checker knows the unit of.
 *
 * One internal unit per dimension. Text is turned into these by the parser in this folder and turned back by
 * the formatter; between the two edges the arithmetic runs on plain numbers whose names end in the unit.
 */
declare const unit: unique symbol;
type Brand<U extends string> = number & { readonly [unit]: U };

export type Gram = Brand<'g'>;
export type Litre = Brand<'L'>;
export type Celsius = Brand<'°C'>;
/** A difference of temperatures, which is not a temperature. */
export type Kelvin = Brand<'K'>;
export type Minute = Brand<'min'>;
/** A share from 0 to 1; people write it as a percentage. */
export type Fraction = Brand<'1'>;
export type Ebc = Brand<'EBC'>;
export type Ibu = Brand<'IBU'>;
export type Kilowatt = Brand<'kW'>;
export type LitrePerHour = Brand<'L/h'>;
export type LitrePerKilogram = Brand<'L/kg'>;
export type MillilitrePerLitre = Brand<'ml/L'>;
export type Metre = Brand<'m'>;
/** Volumes of carbon dioxide at 0 °C and 1 atm per volume of beer. */
export type Volumes = Brand<'vol'>;
/** Gauge pressure. */
export type Kilopascal = Brand<'kPa'>;
export type BillionCells = Brand<'billion'>;

export const gram = (n: number): Gram => n as Gram;
export const celsius = (n: number): Celsius => n as Celsius;
export const minute = (n: number): Minute => n as Minute;
export const fraction = (n: number): Fraction => n as Fraction;
export const ebc = (n: number): Ebc => n as Ebc;
export const ibu = (n: number): Ibu => n as Ibu;
export const billionCells = (n: number): BillionCells => n as BillionCells;
