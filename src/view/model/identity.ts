/** What wing is on the screen, and which check: the lines under its name. */
import type { Analysis } from "../../diagnosis/model.ts";
import type { Datum, Wing } from "../../plan/model.ts";
import type { Check } from "../../readings/model.ts";
import { counted, dateText } from "./format.ts";

export interface Fact {
  readonly label: string;
  readonly value: string;
}

/** The measuring datum in words. */
export function datumText(datum: Datum): string {
  return datum === "riser" ? "from the riser base" : "from the maillon";
}

/** The wing's name with its size, said once. */
export function wingTitle(wing: Wing): string {
  const { name, size } = wing;
  return size === undefined || name.split(/\s+/).includes(size) ? name : `${name} ${size}`;
}

/** Facts about a wing and its check for the head of the screen. */
export function identityFacts(
  wing: Wing,
  check: Check | undefined,
  analysis: Analysis | undefined,
): readonly Fact[] {
  const { min, max } = wing.allUpWeightKg;
  const facts: Fact[] = [{ label: "All-up weight", value: `${Math.round(min)}–${Math.round(max)} kg` }];
  if (check === undefined) {
    facts.push({ label: "Check", value: "no readings yet" });
    facts.push({
      label: "Specified",
      value: `at ${Math.round(wing.reference.tensionN)} N, ${datumText(wing.reference.from)}`,
    });
    return facts;
  }
  facts.push({ label: "Check", value: dateText(check.date) });
  facts.push({ label: "Read", value: `at ${Math.round(check.tensionN)} N, ${datumText(check.from)}` });
  const measured = analysis?.deviations.paths.filter((path) => path.deviationM !== undefined).length;
  facts.push({
    label: "Readings",
    value:
      measured === undefined
        ? counted(check.readings.length, "reading")
        : `${measured} of ${analysis?.deviations.paths.length ?? 0} tabs`,
  });
  return facts;
}
