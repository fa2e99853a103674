/** What is used of fmin, which has no types of its own; its built file can't be imported as a module, its sources can. */
declare module "fmin/index.js" {
  export function conjugateGradient(
    f: (x: Float64Array, gradient: Float64Array) => number,
    initial: Float64Array,
    parameters?: { maxIterations?: number },
  ): { x: Float64Array; fx: number; fxprime: Float64Array };
}
