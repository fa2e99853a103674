/** Gauss–Legendre quadrature on [0, 1], for integrals along the arc and the planform. */

/** Nodes and weights of an n-point rule on [0, 1]. */
export interface QuadratureRule {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
}

/**
 * The n-point Gauss–Legendre rule on [0, 1]: exact for polynomials up to degree 2n − 1.
 * Nodes are the roots of the Legendre polynomial, found by Newton's method from the usual cosine estimate
 * (Abramowitz & Stegun 25.4.29 for the weights).
 */
export function gaussLegendre(n: number): QuadratureRule {
  if (!Number.isInteger(n) || n < 1)
    throw new RangeError(`Got a rule of ${n} points when expected 1 or more.`);
  const nodes = new Float64Array(n);
  const weights = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let pass = 0; pass < 100; pass++) {
      let previous = 1;
      let value = x;
      for (let k = 2; k <= n; k++) {
        const next = ((2 * k - 1) * x * value - (k - 1) * previous) / k;
        previous = value;
        value = next;
      }
      slope = (n * (x * value - previous)) / (x * x - 1);
      const step = value / slope;
      x -= step;
      if (Math.abs(step) < 1e-16) break;
    }
    nodes[i] = (1 - x) / 2;
    weights[i] = 1 / ((1 - x * x) * slope * slope);
  }
  return { nodes, weights };
}

const RULE = gaussLegendre(32);

/**
 * ∫ f(x) dx over [0, upper] for an f that behaves like a (possibly fractional) power of x at 0 and is smooth elsewhere.
 * With x = upper·t⁴ a power x^p becomes t^(4p+3), which 32 points integrate to rounding for the exponents of a canopy's arc.
 */
export function integrateFromZero(f: (x: number) => number, upper: number): number {
  let sum = 0;
  for (let i = 0; i < RULE.nodes.length; i++) {
    const t = RULE.nodes[i] as number;
    const cube = t * t * t;
    sum += (RULE.weights[i] as number) * 4 * cube * f(upper * cube * t);
  }
  return sum * upper;
}

/**
 * ∫ f(σ, sqrt(1 − σ²)) dσ over [0, 1], for an f with a fractional power of σ at 0 and the ellipse's square root at 1.
 * σ = sin(½π·t⁴) takes both ends' singularities away.
 */
export function integrateHalfSpan(f: (sigma: number, ellipse: number) => number): number {
  let sum = 0;
  for (let i = 0; i < RULE.nodes.length; i++) {
    const t = RULE.nodes[i] as number;
    const cube = t * t * t;
    const angle = (Math.PI / 2) * cube * t;
    const ellipse = Math.cos(angle);
    sum += (RULE.weights[i] as number) * 2 * Math.PI * cube * ellipse * f(Math.sin(angle), ellipse);
  }
  return sum;
}

/** ∫ f(x) dx over [from, to] for a smooth f. */
export function integrateSmooth(f: (x: number) => number, from: number, to: number): number {
  let sum = 0;
  for (let i = 0; i < RULE.nodes.length; i++) {
    sum += (RULE.weights[i] as number) * f(from + (to - from) * (RULE.nodes[i] as number));
  }
  return sum * (to - from);
}
