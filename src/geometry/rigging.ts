/** Where the carabiners hang under the root chord, and how far a row out of trim turns the chord. */

/** A point in the plane of the root section: aft of the leading edge along the chord, and below the chord line, both in root chords. */
export interface RiserPoint {
  readonly xOverChord: number;
  readonly zOverChord: number;
}

/**
 * The point where the central front and rear lines meet, from their lengths down to it (risers included): the lower
 * intersection of two circles about the tabs on the chord line. Lengths in metres, fractions of the chord from the leading edge.
 *
 * x = (A² − C² − κ_A² + κ_C²)/(2(κ_C − κ_A)), z = sqrt(C² − (κ_C − x)²), all over the root chord.
 * Source: P. Heatwole, Parametric Paraglider Modeling, MSc thesis, 2022, doi 10.5281/zenodo.6383051.
 * @throws RangeError where the rear tab isn't behind the front one or the lines are too short to meet.
 */
export function riserPoint(
  frontLengthM: number,
  rearLengthM: number,
  frontFraction: number,
  rearFraction: number,
  chordM: number,
): RiserPoint {
  if (!(rearFraction > frontFraction && chordM > 0)) {
    throw new RangeError(
      `Got tabs at ${frontFraction} and ${rearFraction} of a ${chordM} m chord when expected the rear one behind the front one.`,
    );
  }
  const front = frontLengthM / chordM;
  const rear = rearLengthM / chordM;
  const x =
    (front * front - rear * rear - frontFraction * frontFraction + rearFraction * rearFraction) /
    (2 * (rearFraction - frontFraction));
  const heightSquared = rear * rear - (rearFraction - x) ** 2;
  if (!(heightSquared >= 0)) {
    throw new RangeError(
      `Got lines of ${frontLengthM} m and ${rearLengthM} m that do not meet below a ${chordM} m chord.`,
    );
  }
  return { xOverChord: x, zOverChord: Math.sqrt(heightSquared) };
}

/**
 * Rule of thumb for how far a difference between two rows turns the chord [rad]: atan(δ/distance), nose up positive when the
 * rear row is short against the front one, δ = e_front − e_rear with e = measured − specified [m].
 * Common practice, no source; it leaves out that the lines are not square to the chord.
 * @throws RangeError where the distance between the rows isn't above 0.
 */
export function incidenceFromRowDifference(deltaM: number, rowDistanceM: number): number {
  if (!(rowDistanceM > 0))
    throw new RangeError(`Got a row distance of ${rowDistanceM} m when expected above 0.`);
  return Math.atan(deltaM / rowDistanceM);
}
