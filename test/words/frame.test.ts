import { afterEach, beforeAll, describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { deviationScaleOf } from "../../src/diagnosis/scale.ts";
import type { Equilibrium, WingModel } from "../../src/geometry/model.ts";
import { parseCheckText } from "../../src/readings/index.ts";
import { cascadeOf } from "../../src/view/model/cascade.ts";
import { balanceRow, fitRows } from "../../src/view/model/fitTable.ts";
import { identityFacts } from "../../src/view/model/identity.ts";
import { lineCard } from "../../src/view/model/lineCard.ts";
import { findLines, lineEntries } from "../../src/view/model/lineTable.ts";
import { pickedText } from "../../src/view/model/picked.ts";
import { riggingDifferences, riggingEffect, travelText } from "../../src/view/model/riggingText.ts";
import { lengthDivisions, spokenLength } from "../../src/view/model/tape.ts";
import { lineTag, stageCaption } from "../../src/view/stage/words.ts";
import { PANES, STATE_IDS } from "../../src/view/state/choices.ts";
import { AS_USUAL, judgingChoices } from "../../src/view/state/judging.ts";
import { differenceWords } from "../../src/view/state/pair.ts";
import { AS_SPECIFIED } from "../../src/view/state/rigging.ts";
import { type Catalogue, catalogueOf, say, speak } from "../../src/words/index.ts";
import { wingOf } from "../plan/factory.ts";
import { standIn } from "../view/stand-in.ts";

const wing = wingOf(DEMOS.school.plan);
const read = parseCheckText(JSON.stringify(DEMOS.school.check), wing);
if (!read.ok) throw new Error("The demo check is faulty.");
const check = read.value;
const analysis = standIn(wing, check);
const cascade = cascadeOf(wing);
const rad = (degrees: number) => (degrees * Math.PI) / 180;
const view = (
  id: "specified" | "measured" | "tried" | "after",
  deviationM: Map<string, number> | undefined,
) => ({
  id,
  name: say("stage.state", { state: id }),
  within: say("stage.state.within", { state: id }),
  solved: {} as Equilibrium,
  deviationM,
});

let german: Catalogue;
let french: Catalogue;
beforeAll(async () => {
  german = await catalogueOf("de");
  french = await catalogueOf("fr");
});
afterEach(() => speak());
const speakGerman = (unit: "mm" | "in" = "mm") =>
  speak({ language: "de", locale: "de-DE", catalogue: german, unit });
const speakFrench = () => speak({ language: "fr", locale: "fr-FR", catalogue: french, unit: "mm" });
const speakInches = () => speak({ unit: "in" });

describe("a line", () => {
  it("is described in the language set", () => {
    speakGerman();
    const card = lineCard(analysis, cascade, "left:AL2");
    expect(card?.tier).toBe("untere");
    expect(card?.hangsOn).toBe("Leinenschloss A");
    expect(card?.basisText).toMatch(/^Mittel (der \d+|von \d+ der \d+) Stränge durch sie$/);
    expect(pickedText({ kind: "row", row: "C" }, analysis)).toMatch(/^\d+ Leinen der C-Ebene$/);
    expect(lineTag(analysis, "left:AL2")).toMatch(
      /^AL2 links · [+−]?\d+\u202fmm, Mittel der Stränge darüber$/,
    );
    speakFrench();
    expect(lineCard(analysis, cascade, "left:AL2")?.tier).toBe("basse");
    expect(pickedText({ kind: "row", row: "tip" }, analysis)).toMatch(/^\d+ suspentes du stabilo$/);
  });

  it("is found by the words of the language set", () => {
    const found = (query: string) => findLines(lineEntries(analysis, cascade), query).map(({ key }) => key);
    expect(found("AL2 left lower")).toEqual(["left:AL2"]);
    speakGerman();
    expect(found("AL2 links untere")).toEqual(["left:AL2"]);
    speakFrench();
    expect(found("AL2 gauche basse")).toEqual(["left:AL2"]);
    expect(found("AL2 left")).toEqual([]);
  });

  it("has its deviation in inches where they are asked for", () => {
    speakInches();
    expect(lineTag(analysis, "left:AL2")).toMatch(/^AL2 left · ([+−]\d\.\d\d|0\.00)\u202fin,/);
  });
});

describe("the facts in the head", () => {
  it("are in the language set, with the date as it is written there", () => {
    speakGerman();
    const facts = identityFacts(wing, check, analysis);
    expect(facts.map(({ label }) => label)).toEqual(["Abfluggewicht", "Vermessung", "Gemessen", "Messwerte"]);
    expect(facts[1]?.value).toBe("14. März 2026");
    expect(facts[2]?.value).toBe("bei 50 N, ab Tragegurtbasis");
    speakFrench();
    expect(identityFacts(wing, undefined, undefined)[1]?.value).toBe("pas encore de relevés");
  });
});

describe("a rigging", () => {
  const rigging = { percent: { trimmers: 40 }, weightKg: 101, brakeMm: { left: 127, right: 127 } };

  it("says what differs in the language and unit set; the setting's name is the plan's", () => {
    const [setting, , brakes] = riggingDifferences(wing, rigging);
    expect([setting, brakes]).toEqual(["Trimmers open 40 %", "both brakes pulled 127 mm"]);
    speakGerman("in");
    expect(riggingDifferences(wing, rigging)).toEqual([
      "Trimmers open 40 %",
      expect.stringMatching(/^101 kg statt \d+(,5)? kg$/),
      "beide Bremsen 5,00 in gezogen",
    ]);
    expect(riggingDifferences(wing, { ...AS_SPECIFIED, brakeMm: { left: 0, right: 254 } })).toEqual([
      "rechte Bremse 10,00 in gezogen",
    ]);
    speakFrench();
    expect(riggingEffect(rad(-1.74))).toBe("−1,74°, à piquer");
    expect(riggingEffect(rad(0.01))).toMatch(/inchangée$/);
  });

  it("says what is left of the brakes' travel", () => {
    speakGerman();
    expect(travelText({ left: 0.028, right: 0.0194 })).toBe("links 28 mm, rechts 19 mm");
    expect(travelText({ left: -0.0061, right: 0.0002 })).toBe(
      "links keiner, Hinterkante 6 mm gezogen; rechts keiner",
    );
    speakInches();
    expect(travelText({ left: 0.0254, right: -0.0508 })).toBe(
      "left 1.00 in; right none, edge pulled 2.00 in",
    );
  });
});

describe("the stage", () => {
  it("names both states, and what is exaggerated", () => {
    speakGerman();
    const first = view("measured", new Map());
    const second = view("tried", new Map());
    expect(stageCaption({ first, second, how: "over" }, 2.5, true)).toEqual({
      state: "Probiert, darunter gemessen",
      scale: "Formänderung ×2,5 gezeichnet, Einstellung wahr gezeichnet",
    });
    expect(stageCaption({ first, second, how: "wipe" }, 1).state).toBe(
      "Gemessen links der Trennlinie, probiert rechts davon",
    );
    const picture = { origin: first.solved, first, second, how: "over", colourOf: "difference" } as const;
    expect(differenceWords(picture, deviationScaleOf(0.03, 0.0021))).toBe(
      "Farben: probiert minus gemessen. Grau innerhalb ±2,1 mm.",
    );
  });

  it("knows a word for every state and every pane", () => {
    for (const catalogue of [german, french]) {
      speak({ catalogue });
      expect(new Set(STATE_IDS.map((state) => say("stage.state", { state }))).size).toBe(STATE_IDS.length);
      expect(new Set(PANES.map((pane) => say("frame.pane", { pane }))).size).toBe(PANES.length);
    }
  });
});

describe("a tape whose values are millimetres", () => {
  const divisions = {
    mm: { tick: 1, labels: [-50, 0, 50], decimals: 0 },
    in: { tick: 0.05, labels: [-1.5, 0, 1.5], decimals: 1 },
  };

  it("is written in millimetres or at round places in inches, and keeps its values in millimetres", () => {
    expect(lengthDivisions(divisions)).toMatchObject({ tick: 1, labels: [-50, 0, 50] });
    expect(lengthDivisions(divisions).labelText(-50, true)).toBe("−50");
    speakInches();
    const { tick, labels, labelText } = lengthDivisions(divisions);
    expect(tick).toBeCloseTo(1.27, 12);
    expect(labels[2]).toBeCloseTo(38.1, 12);
    expect(labels.map((label) => labelText(label, true))).toEqual(["−1.5", "0.0", "+1.5"]);
    expect(labelText(38.1, false)).toBe("1.5");
  });

  it("is read out in full", () => {
    expect(spokenLength(-12)).toBe("−12 millimetres");
    speakGerman("in");
    expect(spokenLength(-12)).toBe("−0,47 Zoll");
  });
});

describe("how the canopy was found", () => {
  it("names quantities and where they come from, decimals by the language", () => {
    const parameters = [
      { name: "flat span", value: 11.96, unit: "m", origin: "plan", deviation: 0, priorDeviation: 0 },
      {
        name: "tip twist",
        value: rad(0.9),
        unit: "rad",
        origin: "fitted",
        deviation: rad(0.052),
        priorDeviation: 1,
      },
      {
        name: "row C shift",
        value: 0.01,
        unit: "m",
        origin: "assumed",
        deviation: 0.02,
        priorDeviation: 0.02,
      },
    ];
    const model = { fit: { parameters } } as unknown as WingModel;
    expect(fitRows(model)[2]?.name).toBe("row C shift");
    speakGerman();
    expect(fitRows(model)).toEqual([
      { name: "ausgelegte Spannweite", value: "11,960 m", origin: "aus dem Plan", spread: "" },
      {
        name: "Verwindung am Ende, Nase hoch",
        value: "0,90°",
        origin: "aus den Längen gefunden",
        spread: "± 0,052°",
      },
      {
        name: "Verschiebung der C-Ebene",
        value: "0,010 m",
        origin: "angenommen, typisch",
        spread: "± 0,020 m",
      },
    ]);
  });

  it("says how a solve ended, with the slack lines by name", () => {
    speakFrench();
    const model = { memberLine: ["left:A1", undefined, "right:A1"] } as unknown as WingModel;
    const state = { converged: true, iterations: 7, residualN: 0.02, energyJ: 12.34, slack: [0, 2] };
    expect(balanceRow("Essayé", model, state as unknown as Equilibrium).text).toBe(
      "en équilibre après 7 pas, plus grande force restante 0,020 N, énergie 12,3 J, 2 suspentes molles (A1 gauche, A1 droite)",
    );
  });
});

describe("limits that were changed here", () => {
  it("have their source in the language that is set when they are judged by", () => {
    const judging = { ...AS_USUAL, tolerances: { pathM: 0.008, source: "here" } };
    expect(judgingChoices(wing, check, judging).tolerances.source).toBe("set by hand beside the plan");
    speakGerman();
    expect(judgingChoices(wing, check, judging).tolerances.source).toBe("von Hand neben dem Plan gesetzt");
    expect(judgingChoices(wing, check, AS_USUAL).tolerances.source).toBe(wing.tolerances.source);
  });
});
