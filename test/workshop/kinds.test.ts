import { describe, expect, it } from "vitest";
import {
  fileNameOf,
  givenKind,
  isGiven,
  kindFromName,
  kindName,
  LOOP_KINDS,
  loopKind,
  specifiedKind,
} from "../../src/workshop/index.ts";

const idOf = (name: string): string | undefined => kindFromName(name)?.id;

describe("which loop a name means", () => {
  it.each([
    [
      "plain",
      [
        "plain eye",
        "Plain",
        "no loop",
        "no extra turn",
        "ohne Schlaufe",
        "Öse",
        "einfaches Auge",
        "œil simple",
      ],
    ],
    [
      "turn",
      [
        "one extra turn",
        "extra turn",
        "1 extra round turn",
        "one additional turn around the bar",
        "with one extra turn",
        "round turn",
        "eine zusätzliche Windung",
        "Zusatzwindung",
        "1x Zusatzschlag",
        "un tour supplémentaire",
        "un tour de plus",
        "tour mort",
      ],
    ],
    [
      "girth",
      [
        "girth hitch",
        "Girth-hitch",
        "lark's head",
        "Lark’s Head",
        "cow hitch",
        "Ankerstich",
        "Tête d’alouette",
        "nœud d'alouette",
      ],
    ],
    [
      "two-turns",
      [
        "two extra turns",
        "2 extra turns",
        "double extra turn",
        "zwei zusätzliche Windungen",
        "2 Zusatzwindungen",
        "deux tours supplémentaires",
        "2 tours de plus",
      ],
    ],
  ])("%s, however it is said in English, German or French", (id, names) => {
    expect(names.map(idOf)).toEqual(names.map(() => id));
  });

  it.each([
    "girth hitch with one extra turn",
    "three extra turns",
    "two turns",
    "not a girth hitch",
    "soft link",
    "loop 2",
    "__proto__",
    "constructor",
  ])("%s isn't taken for one of ours, but is a kind of its own", (name) => {
    const kind = kindFromName(name);
    expect(kind?.id).toBe(`given:${name}`);
    expect(kind !== undefined && isGiven(kind)).toBe(true);
    expect(kind !== undefined && kindName(kind)).toBe(name);
  });

  it("a blank name means nothing", () => {
    expect(kindFromName("  \t")).toBeUndefined();
    expect(loopKind("given:")).toBeUndefined();
    expect(loopKind("nonsense")).toBeUndefined();
  });

  it("every kind is found by its id and by its name, and is written so that it is read back", () => {
    for (const kind of [
      ...LOOP_KINDS,
      givenKind("keeper  knot"),
      givenKind("plain eye"),
      givenKind("girth"),
    ]) {
      expect(loopKind(kind.id)).toEqual(kind);
      expect(idOf(fileNameOf(kind.id))).toBe(kind.id);
    }
    expect(LOOP_KINDS.map((kind) => idOf(kindName(kind)))).toEqual(LOOP_KINDS.map((kind) => kind.id));
  });
});

describe("the loop that a plan specifies", () => {
  it("is the plain eye where it gives none", () => {
    expect(specifiedKind(undefined, 0).id).toBe("plain");
    expect(specifiedKind("plain eye", 0).id).toBe("plain");
  });

  it("is a kind of its own where a take-up has no name, or stands under the name of a plain eye", () => {
    expect(specifiedKind(undefined, 0.0135).id).toBe("given:13.5 mm of take-up");
    expect(specifiedKind("plain eye", 0.005).id).toBe("given:plain eye");
    expect(specifiedKind("girth hitch", 0.013).id).toBe("girth");
  });
});
