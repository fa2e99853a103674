/** The cautions that go with every verdict, on screens, in reports and in exports. */
import { say } from "../words/index.ts";

/** In a line: what the figures are, and who decides. */
export function cautionShort(): string {
  return say("diagnosis.caution.short");
}

/** All of it, in paragraphs: the model, the clearance that this isn't, the loops, what comes after a change. */
export function cautionFull(): readonly string[] {
  return [
    say("diagnosis.caution.model"),
    say("diagnosis.caution.clearance"),
    say("diagnosis.caution.loops"),
    say("diagnosis.caution.after"),
  ];
}
