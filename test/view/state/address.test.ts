import { describe, expect, it } from "vitest";
import { formatAddress, isStep, parseAddress } from "../../../src/view/state/address.ts";
import { AGAINST, type Choices, INITIAL } from "../../../src/view/state/choices.ts";
import { recognise } from "../../../src/view/state/intake.ts";
import { keepOwn, keptOwn, type Own, type Shelf } from "../../../src/view/state/keep.ts";

describe("the address", () => {
  const full: Choices = {
    wing: "second",
    shown: "both",
    exaggeration: 25,
    rows: new Set(["A", "brake"]),
    sides: new Set(["left"]),
    picked: { kind: "line", key: "left:A1.2" },
    pane: "lines",
    planPart: "edit",
    direction: "pilot",
    rangeM: 0.05,
    rigging: {
      percent: { trimmers: 40, "speed & more": 100 },
      weightKg: 112,
      brakeMm: { left: 30, right: 0 },
    },
    trials: new Map([
      ["left:A1.2", -12],
      ["right:B@,3", 50],
    ]),
    loops: new Map([
      ["left:A1", "girth"],
      ["right:B@,3", "given:a@right: & left"],
    ]),
    strip: "rib",
    rib: 7,
    ribSide: "right",
    colouredBy: "line",
    against: "tried",
    compare: "wipe",
    wipeAt: 0.375,
    colourOf: "difference",
  };

  it("holds all that is seen", () => {
    expect(parseAddress(formatAddress(full))).toEqual(full);
    expect(parseAddress(formatAddress(INITIAL))).toEqual(INITIAL);
  });

  it("keeps a line's name legible, and survives names with signs that mean something in addresses", () => {
    expect(formatAddress(full)).toContain("line=left:A1.2");
    const odd: Choices = { ...full, picked: { kind: "line", key: "left:A&1=#2 ü%" } };
    expect(parseAddress(formatAddress(odd)).picked).toEqual(odd.picked);
  });

  it("is as at first where it says nothing or nonsense", () => {
    expect(parseAddress("")).toEqual(INITIAL);
    expect(parseAddress("#shown=sideways&pane=&shape=many&from=below")).toEqual(INITIAL);
  });

  it("keeps the exaggeration between 1 and 40, whole", () => {
    expect(parseAddress("#shape=400").exaggeration).toBe(40);
    expect(parseAddress("#shape=0").exaggeration).toBe(1);
    expect(parseAddress("#shape=7.4").exaggeration).toBe(7);
  });

  it("keeps trials within 50 mm and travels within 100 %, and leaves out what isn't of their form", () => {
    const { trials, rigging } = parseAddress(
      "#try=-70@left:A1&try=0@left:A2&try=few@left:A3&try=5&rig=140@speed&rig=0@trimmers&brakes=20,9999&kg=",
    );
    expect([...trials]).toEqual([["left:A1", -50]]);
    expect(rigging).toEqual({
      percent: { speed: 100 },
      weightKg: undefined,
      brakeMm: { left: 20, right: 300 },
    });
  });

  it("opens the user's own wing where it names none and one is kept", () => {
    expect(parseAddress("", "own").wing).toBe("own");
    expect(parseAddress("#wing=school", "own").wing).toBe("school");
  });

  it("keeps the divider between both edges, to a thousandth of the width, and every state that can be held against", () => {
    expect(parseAddress("#divider=140").wipeAt).toBe(1);
    expect(parseAddress("#divider=-3").wipeAt).toBe(0);
    expect(parseAddress("#divider=33.333").wipeAt).toBe(0.333);
    expect(parseAddress("#divider=left&two=triple&against=now&tint=").wipeAt).toBe(INITIAL.wipeAt);
    for (const against of AGAINST) {
      const choices = { ...INITIAL, against };
      expect(parseAddress(formatAddress(choices))).toEqual(choices);
    }
    const moved = { ...INITIAL, wipeAt: 0.3 };
    expect(isStep(INITIAL, moved)).toBe(false);
    expect(isStep(INITIAL, { ...INITIAL, compare: "beside" })).toBe(true);
  });

  it("is a step back for a pane, a state or a pick, not for sliding and turning", () => {
    expect(isStep(INITIAL, { ...INITIAL, pane: "rows" })).toBe(true);
    expect(isStep(INITIAL, { ...INITIAL, shown: "both" })).toBe(true);
    expect(isStep(INITIAL, { ...INITIAL, picked: { kind: "row", row: "A" } })).toBe(true);
    expect(isStep(INITIAL, { ...INITIAL, exaggeration: 11 })).toBe(false);
    expect(isStep(INITIAL, { ...INITIAL, direction: "side" })).toBe(false);
  });
});

describe("a text that is brought", () => {
  it.each([
    ["plan", '{"format": "linewright-plan"}'],
    ["plan", '\uFEFF  {"sides": {}}'],
    ["check", '{"format": "linewright-check"}'],
    ["check", '{"readings": []}'],
    ["sheet", "tab,left,right\nA1,7421,7419"],
    ["sheet", '"tab";"left"'],
    ["broken JSON", '{"format": '],
    ["unknown JSON", '{"name": "x"}'],
    ["unknown JSON", "[1]"],
    ["empty", " \n"],
  ] as const)("is taken for %s: %s", (kind, text) => {
    expect(recognise(text)).toBe(kind);
  });
});

describe("the user's files on the shelf", () => {
  const own: Own = {
    plan: { name: "p.json", text: "{}" },
    readings: { name: "r.csv", text: "tab", frame: undefined },
  };
  function shelf(): Shelf & { readonly content: Map<string, string> } {
    const content = new Map<string, string>();
    return {
      content,
      getItem: (key) => content.get(key) ?? null,
      setItem: (key, text) => void content.set(key, text),
      removeItem: (key) => void content.delete(key),
    };
  }

  it("come back as they were put there", () => {
    const place = shelf();
    expect(keepOwn(place, own)).toBe(true);
    expect(keptOwn(place)).toEqual(own);
  });

  it("aren't missed where the browser refuses or has lost them", () => {
    const full: Shelf = {
      ...shelf(),
      setItem: () => {
        throw new DOMException("no room", "QuotaExceededError");
      },
    };
    expect(keepOwn(full, own)).toBe(false);
    expect(keepOwn(undefined, own)).toBe(false);
    expect(keptOwn(undefined)).toBeUndefined();
    const spoilt = shelf();
    spoilt.content.set("linewright.own", '{"plan": 3}');
    expect(keptOwn(spoilt)).toBeUndefined();
    spoilt.content.set("linewright.own", "{");
    expect(keptOwn(spoilt)).toBeUndefined();
  });
});
