/**
 * The density set of aqueous sucrose that degrees Plato rest on: the bare polynomials, without checks of
 * range.
 *
 * ρ(w, t) = ρw(t) + Σj ((t − 20)/100)^j Σi c_ji w^i, w the mass fraction of sucrose, t in °C, ρ in kg/m³.
 * Source: the density formula of ICUMSA Specification and Standard SPS-4 (that it is this one: from memory;
 * coefficients seen in two transcriptions). Its ρw has the form of Kell 1975, J. Chem. Eng. Data 20:97, on
 * the temperature scale of 1990.
 */

/** Density of water: a polynomial of the fifth degree over a linear one. */
export function waterDensity(t: number): number {
  return (
    (999.83952 +
      t * (16.952577 + t * (-7.9905127e-3 + t * (-46.241757e-6 + t * (105.84601e-9 + t * -281.03006e-12))))) /
    (1 + 16.887236e-3 * t)
  );
}

/** What the sucrose adds to the density of water at 20 °C. */
export function excessAt20(w: number): number {
  return w * (385.1761 + w * (135.3705 + w * (40.9299 + w * (-3.9643 + w * (13.4853 + w * -17.289)))));
}

/** Derivative of `excessAt20` with respect to w. */
export function excessSlopeAt20(w: number): number {
  return (
    385.1761 +
    w * (2 * 135.3705 + w * (3 * 40.9299 + w * (4 * -3.9643 + w * (5 * 13.4853 + w * (6 * -17.289)))))
  );
}

/** Density of the solution at any temperature. */
export function solutionDensity(w: number, t: number): number {
  const τ = (t - 20) / 100;
  const first = w * (-46.272 + w * (-7.172 + w * (1.1597 + w * (5.1126 + w * 17.5254))));
  const second = w * (59.7712 + w * (7.2491 + w * (12.363 + w * -35.4791)));
  const third = w * (-47.2207 + w * (-21.6977 + w * 27.6301));
  const fourth = w * (18.3184 + w * 12.3081);
  return waterDensity(t) + excessAt20(w) + τ * (first + τ * (second + τ * (third + τ * fourth)));
}
