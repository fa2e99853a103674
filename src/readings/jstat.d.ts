/** What is used of the package `jstat`, which carries no types of its own. */
declare module "jstat" {
  interface Location {
    cdf(x: number, mean: number, standardDeviation: number): number;
    inv(probability: number, mean: number, standardDeviation: number): number;
  }
  interface OfDegrees {
    cdf(x: number, degreesOfFreedom: number): number;
    inv(probability: number, degreesOfFreedom: number): number;
  }
  const jStat: {
    readonly normal: Location;
    readonly studentt: OfDegrees;
    readonly chisquare: OfDegrees;
  };
  export default jStat;
}
