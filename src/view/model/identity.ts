/** What wing is on the screen, and which check: the lines under its name. */
import type { Analysis } from "../../diagnosis/model.ts";
import type { Wing } from "../../plan/model.ts";
import type { Check } from "../../readings/model.ts";
import { type Key, say } from "../../words/index.ts";
import { dateText } from "./format.ts";

export interface Fact {
  readonly of: "weight" | "check" | "setup" | "readings";
  readonly label: string;
  readonly value: string;
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
  const fact = (of: Fact["of"], label: Key, value: string): Fact => ({ of, label: say(label), value });
  const weight = fact("weight", "frame.fact.weight", `${Math.round(min)}–${Math.round(max)} kg`);
  if (check === undefined) {
    const { tensionN, from } = wing.reference;
    return [
      weight,
      fact("check", "frame.fact.check", say("frame.fact.check.none")),
      fact(
        "setup",
        "frame.fact.specified",
        say("frame.fact.at", { tension: Math.round(tensionN), datum: from }),
      ),
    ];
  }
  const measured = analysis?.deviations.paths.filter((path) => path.deviationM !== undefined).length;
  return [
    weight,
    fact("check", "frame.fact.check", dateText(check.date)),
    fact(
      "setup",
      "frame.fact.read",
      say("frame.fact.at", { tension: Math.round(check.tensionN), datum: check.from }),
    ),
    fact(
      "readings",
      "frame.fact.readings",
      measured === undefined
        ? say("frame.fact.readings.count", { count: check.readings.length })
        : say("frame.fact.readings.tabs", { read: measured, total: analysis?.deviations.paths.length ?? 0 }),
    ),
  ];
}
