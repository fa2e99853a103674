/**
 * A draft as text: one statement a line, `what: …`. Blank lines and lines that begin with `#` are left out.
 *
 *     name: Paper Kite            size: 24        kind: paramotor      weight: 80-105       note: …
 *     from: riser                 (or maillon)    tension: 50          trimmer: 0           reference: …
 *     risers: A 480, B 480        maillons: A1 on A, A2 on A bar 4.5
 *     pulley: D 220               free travel: 80
 *     pattern: 4 rows 12 tabs     rows that aren't given below are taken from it
 *     A: 2+2 3+2 2+2              a row's lower lines outwards, see `notation.ts`
 *     A on A2: 2                  goes on outwards on another maillon
 *     T on B: 2+3                 a tip line on another row's riser
 *     BR: 4*(2+2)
 *     ribs A B: 2-26/2            chord A: 9           chord T: 8 27 47 68 90     (per cent; one for the row, or one a tab)
 *     totals A: 7421 7418 - 7402  in order outwards; - where there is none
 *     lower A: 4210 4205          middle A: …          upper A: …                 (upper: lines that end at a tab)
 *     diameters: 1.8 1.3 0.9      diameters C D: 1.7 1.2 0.8                      (by tier from below)
 *     material aramid 1.5: 1.5 mm, fibre aramid, EA 40000, mass 1.6, breaks 1600
 *     use A B: aramid 2.1 / aramid 1.7 / aramid 1.1                               (by tier from below; or one line: use AL1: …)
 *     loop C: 13 girth hitch      loop CL1: none       colour A: red
 *     canopy: flat area 25.4, flat span 11.9, cells 52, root chord 2.84
 *     limits: total 10, left right 5, rows 10, free travel 50                     limits from: …
 *     setting speed bar Speed system: A -130, B -85                               (setting, kind, id, name)
 *     line AL1: name in the plan  tab A1: name in the plan
 */
import { say } from "../../words/index.ts";
import type { Problem, Row } from "../model.ts";
import { didYouMean, listed, nearest, problem } from "../wording.ts";
import type { Fault } from "./notation.ts";
import { parseNumberList } from "./number-list.ts";
import {
  CANOPY_KEYS,
  DRAFT_FORMAT,
  type DraftSource,
  LIMIT_KEYS,
  type LineKind,
  rowNamed,
} from "./source.ts";
import { isNumber, numberOf, type Part, partsOf, unquoted } from "./words.ts";

/** Where a statement's or number's text begins: lines and characters counted from 1. */
export interface Place {
  readonly line: number;
  readonly character: number;
}

export interface Statements {
  readonly source: DraftSource;
  /** By path in the source. */
  readonly places: ReadonlyMap<string, Place>;
  readonly problems: readonly Problem[];
}

/** A place as a person finds it. */
export function placeText(place: Place, offset = 0): string {
  return say("draft.place", { line: place.line, character: place.character + offset });
}

const MATERIAL_KEYS: Readonly<Record<string, string>> = {
  EA: "stiffnessEaN",
  modulus: "modulusGPa",
  mass: "massGPerM",
  breaks: "breakingForceN",
};
const HEADS = [
  ..."name size kind weight note from tension trimmer reference risers maillons pulley free_travel pattern ribs chord".split(
    " ",
  ),
  ..."totals lower middle third upper diameters material use loop colour canopy limits limits_from setting line tab".split(
    " ",
  ),
].map((head) => head.replace("_", " "));

type Writable = { -readonly [K in keyof DraftSource]: DraftSource[K] };

/** Reads a draft's text line by line. What can't be read is told by its place and left out. Never throws. */
export function readStatements(text: string): Statements {
  const source: Writable = { format: DRAFT_FORMAT, version: 1, rows: [] };
  const places = new Map<string, Place>();
  const problems: Problem[] = [];
  text
    .replace(/^\uFEFF/u, "")
    .split(/\r\n|\r|\n/u)
    .forEach((raw, index) => {
      if (/^\s*(#|$)/u.test(raw)) return;
      readStatement(raw, index + 1, source, places, problems);
    });
  return { source, places, problems };
}

function readStatement(
  raw: string,
  lineNumber: number,
  source: Writable,
  places: Map<string, Place>,
  problems: Problem[],
): void {
  const [headPart, second] = partsOf(raw, ":");
  // While it is typed, a row may still lack its colon.
  const bare = /^\s*(BR|[ABCDT]|tip|brake)\s+(?=[\d(])/iu.exec(raw);
  const colon = second !== undefined;
  const head = (colon || bare === null ? (headPart?.text ?? "") : (bare[1] as string)).replace(/\s+/gu, " ");
  const from = colon
    ? raw.indexOf(":", (headPart?.at ?? 0) + (headPart?.text.length ?? 0)) + 1
    : (bare?.[0].length ?? raw.length);
  const rest = raw.slice(from);
  const lead = rest.length - rest.trimStart().length;
  const body = rest.trim();
  const at: Place = { line: lineNumber, character: from + lead + 1 };
  const headAt: Place = { line: lineNumber, character: (headPart?.at ?? 0) + 1 };

  const complain = (message: string, remedy: string, place = at, offset = 0): void => {
    problems.push(
      problem("error", placeText(place, offset), head === "" ? undefined : head, message, remedy),
    );
  };
  const faults = (found: readonly Fault[], offset = 0): void => {
    for (const fault of found)
      complain(
        say("draft.at", { subject: head, message: fault.message }),
        fault.remedy,
        at,
        fault.at + offset,
      );
  };
  const push = <
    K extends
      | "rows"
      | "ribs"
      | "chords"
      | "risers"
      | "maillons"
      | "settings"
      | "materials"
      | "diameters"
      | "use"
      | "colours"
      | "loops"
      | "totals"
      | "lengths"
      | "names",
  >(
    list: K,
    entry: NonNullable<DraftSource[K]>[number],
    offset = 0,
  ): void => {
    const all = (source[list] ?? []) as unknown[];
    places.set(`${list}[${all.length}]`, { line: at.line, character: at.character + offset });
    source[list] = [...all, entry] as Writable[K];
  };
  const single = (text = body, offset = 0): number | undefined => {
    const plain = text.replace(/\s*(mm|N|kg|m|m²|%)$/u, "");
    if (isNumber(plain)) return numberOf(plain);
    complain(say("draft.single", { head, found: text }), say("draft.correct"), at, offset);
    return undefined;
  };
  /** `flat area 25.4`: the key's field and the number behind it. */
  const keyed = (
    part: Part,
    keys: Readonly<Record<string, string>>,
  ): readonly [string, number] | undefined => {
    const match = /^(.*?)\s+(\S+)$/u.exec(part.text);
    const key = Object.keys(keys).find((each) => each.toLowerCase() === match?.[1]?.toLowerCase());
    const value = match?.[2] ?? "";
    if (key !== undefined && isNumber(value)) return [keys[key] as string, numberOf(value)];
    complain(
      say("draft.keyed", { head, found: part.text, known: listed(Object.keys(keys)) }),
      say("draft.correct"),
      at,
      part.at,
    );
    return undefined;
  };
  const rowsIn = (words: readonly string[]): Row[] => {
    if (words.length === 0)
      complain(say("draft.no-row", { head }), say("draft.no-row.fix", { head }), headAt);
    return words.flatMap((word) => {
      const row = rowNamed(word);
      if (row !== undefined) return [row];
      complain(say("draft.row-name", { head, found: word }), say("draft.row-name.fix"), headAt);
      return [];
    });
  };

  const rowHead = /^(\S+)(?:\s+on\s+(.+))?$/iu.exec(head);
  const row = rowHead === null ? undefined : rowNamed(rowHead[1] as string);
  if (row !== undefined && (colon || bare !== null)) {
    const on = rowHead?.[2] === undefined ? undefined : unquoted(rowHead[2]);
    const index = source.rows.length;
    push("rows", { row, ...(on === undefined ? {} : { on }), cascade: body });
    places.set(`rows[${index}].on`, headAt);
    return;
  }
  if (!colon) {
    complain(say("draft.statement", { found: raw.trim() }), say("draft.statement.fix"), headAt);
    return;
  }
  const words = head.split(" ");
  const first = (words[0] ?? "").toLowerCase();
  const args = words.slice(1);
  const lower = head.toLowerCase();
  if (body === "") {
    if (HEADS.includes(first) || HEADS.includes(lower))
      complain(say("draft.blank", { head }), say("draft.blank.fix"));
    else unknown();
    return;
  }
  switch (lower) {
    case "name":
    case "size":
    case "note":
      source.wing = { ...source.wing, [lower]: body };
      places.set(`wing.${lower}`, at);
      return;
    case "kind":
      if (body !== "paraglider" && body !== "paramotor")
        complain(say("draft.kind", { found: body }), say("draft.correct"));
      else source.wing = { ...source.wing, kind: body };
      return;
    case "weight": {
      const match = /^(\d+(?:[.,]\d+)?)\s*(?:-|–|to)\s*(\d+(?:[.,]\d+)?)\s*(?:kg)?$/u.exec(body);
      places.set("wing.allUpWeightKg", at);
      if (match === null) complain(say("draft.weight", { found: body }), say("draft.weight.fix"));
      else {
        const allUpWeightKg = { min: numberOf(match[1] as string), max: numberOf(match[2] as string) };
        source.wing = { ...source.wing, allUpWeightKg };
      }
      return;
    }
    case "from":
      if (body !== "riser" && body !== "maillon")
        complain(say("draft.from", { found: body }), say("draft.from.fix"));
      else source.reference = { ...source.reference, from: body };
      return;
    case "tension":
    case "trimmer": {
      const value = single();
      if (value === undefined) return;
      const key = lower === "tension" ? "tensionN" : "trimmerMm";
      source.reference = { ...source.reference, [key]: value };
      places.set(`reference.${key}`, at);
      return;
    }
    case "reference":
      source.reference = { ...source.reference, note: body };
      return;
    case "pattern":
      source.pattern = body;
      places.set("pattern", at);
      return;
    case "risers":
      for (const part of partsOf(body, ",")) {
        if (part.text === "") continue;
        const match = /^(.+?)(?:\s+([\d.]+)(?:\s*mm)?)?$/u.exec(part.text);
        const id = unquoted(match?.[1] ?? "");
        push("risers", { id, ...(match?.[2] === undefined ? {} : { lengthMm: Number(match[2]) }) }, part.at);
      }
      places.set("risers", at);
      return;
    case "maillons":
      for (const part of partsOf(body, ",")) {
        if (part.text === "") continue;
        const match =
          /^("(?:[^"\\]|\\.)*"|.+?)\s+on\s+("(?:[^"\\]|\\.)*"|.+?)(?:\s+bar\s+([\d.]+)(?:\s*mm)?)?$/u.exec(
            part.text,
          );
        if (match === null)
          complain(say("draft.maillons", { found: part.text }), say("draft.correct"), at, part.at);
        else
          push(
            "maillons",
            {
              id: unquoted(match[1] as string),
              riser: unquoted(match[2] as string),
              ...(match[3] === undefined ? {} : { barDiameterMm: Number(match[3]) }),
            },
            part.at,
          );
      }
      return;
    case "pulley": {
      const match = /^(.+?)(?:\s+([\d.]+)(?:\s*mm)?)?$/u.exec(body);
      source.brakes = {
        ...source.brakes,
        pulleyRiser: unquoted(match?.[1] ?? body),
        ...(match?.[2] === undefined ? {} : { pulleyHeightMm: Number(match[2]) }),
      };
      places.set("brakes", at);
      return;
    }
    case "free travel": {
      const value = single();
      if (value !== undefined) source.brakes = { ...source.brakes, freeTravelMm: value };
      return;
    }
    case "canopy":
      for (const part of partsOf(body, ",")) {
        const pair = keyed(part, CANOPY_KEYS);
        if (pair !== undefined) source.canopy = { ...source.canopy, [pair[0]]: pair[1] };
      }
      places.set("canopy", at);
      return;
    case "limits":
      for (const part of partsOf(body, ",")) {
        const pair = keyed(part, LIMIT_KEYS);
        if (pair !== undefined) source.tolerances = { ...source.tolerances, [pair[0]]: pair[1] };
      }
      places.set("tolerances", at);
      return;
    case "limits from":
      source.tolerances = { ...source.tolerances, source: body };
      return;
  }
  const targets = args.length === 0 ? ["all"] : args.map(unquoted);
  switch (first) {
    case "ribs":
      for (const of of rowsIn(args)) {
        places.set(`ribs[${source.ribs?.length ?? 0}].list`, at);
        push("ribs", { row: of, list: body });
      }
      return;
    case "chord": {
      const { numbers, faults: found } = parseNumberList(body.replace(/%/gu, ""));
      faults(found);
      const fractions = numbers.map(({ value, at: offset }) => {
        if (value === undefined || (value >= 0 && value <= 100))
          return value === undefined ? null : percent(value);
        complain(say("draft.chord", { head, found: value }), say("draft.correct"), at, offset);
        return null;
      });
      const one = fractions.length === 1 && !/^1[x×]/u.test(body) ? fractions[0] : undefined;
      for (const of of rowsIn(args)) {
        if (one === undefined) push("chords", { row: of, tabs: fractions });
        else if (one !== null)
          source.canopy = {
            ...source.canopy,
            rowChordFractions: { ...source.canopy?.rowChordFractions, [of]: one },
          };
      }
      return;
    }
    case "totals":
    case "lower":
    case "middle":
    case "third":
    case "upper": {
      const { numbers, faults: found } = parseNumberList(body);
      faults(found);
      const [of] = rowsIn(args);
      if (of === undefined) return;
      if (args.length > 1) complain(say("draft.rows", { head }), say("draft.rows.fix"), headAt);
      // A row's list may go on in a further line.
      const earlier =
        first === "totals"
          ? (source.totals ?? []).filter((each) => each.row === of)
          : (source.lengths ?? []).filter((each) => each.row === of && each.kind === first);
      const start = Math.max(0, ...earlier.map((each) => each.number));
      numbers.forEach(({ value, at: offset }, i) => {
        if (value === undefined) return;
        const number = start + i + 1;
        if (first === "totals") push("totals", { row: of, number, mm: value }, offset);
        else push("lengths", { row: of, kind: first as LineKind, number, mm: value }, offset);
      });
      return;
    }
    case "diameters": {
      const { numbers, faults: found } = parseNumberList(body);
      faults(found);
      const mm = numbers.map(({ value }) => value ?? 0);
      const bad = numbers.find(({ value }) => value === undefined || value < 0.2 || value > 6);
      if (bad !== undefined)
        complain(
          say("draft.diameters", { head, found: bad.value ?? "none" }),
          say("draft.correct"),
          at,
          bad.at,
        );
      else push("diameters", { targets, mm });
      return;
    }
    case "use":
      push("use", {
        targets,
        materials: partsOf(body, "/")
          .map((part) => unquoted(part.text))
          .filter((id) => id !== ""),
      });
      return;
    case "colour":
      push("colours", { targets, colour: body === "none" ? null : unquoted(body) });
      return;
    case "loop": {
      const match = /^(\d+(?:[.,]\d+)?(?:e-?\d+)?)(?:\s*mm)?(?:\s+(.+))?$/u.exec(body);
      if (body === "none") push("loops", { targets, loop: null });
      else if (match === null || numberOf(match[1] as string) > 150)
        complain(say("draft.loop-form", { head, found: body }), say("draft.loop-form.fix"));
      else
        push("loops", {
          targets,
          loop: { name: match[2] ?? "loop", takeUpMm: numberOf(match[1] as string) },
        });
      return;
    }
    case "material": {
      const id = unquoted(
        raw
          .slice(0, raw.indexOf(":", (headPart?.at ?? 0) + (headPart?.text.length ?? 0)))
          .trim()
          .slice("material".length),
      );
      readMaterial(id);
      return;
    }
    case "setting": {
      const kind = args[0];
      const match = /^("(?:[^"\\]|\\.)*"|\S+)\s+(.+)$/u.exec(args.slice(1).join(" "));
      if ((kind !== "trimmer" && kind !== "speed") || match === null) {
        complain(say("draft.setting", { head }), say("draft.setting.fix"), headAt);
        return;
      }
      const strapChangesMm: Record<string, number> = {};
      for (const part of partsOf(body, ",")) {
        const pair = /^(.+?)\s+([+−-]?\d+(?:\.\d+)?)(?:\s*mm)?$/u.exec(part.text);
        if (pair === null)
          complain(say("draft.strap", { head, found: part.text }), say("draft.correct"), at, part.at);
        else strapChangesMm[unquoted(pair[1] as string)] = Number((pair[2] as string).replace("−", "-"));
      }
      push("settings", {
        id: unquoted(match[1] as string),
        name: unquoted(match[2] as string),
        kind,
        strapChangesMm,
      });
      return;
    }
    case "line":
    case "tab":
      if (args.length !== 1)
        complain(say("draft.names", { head, of: first }), say("draft.names.fix", { of: first }), headAt);
      else push("names", { of: first, draft: args[0] as string, plan: body });
      return;
  }
  unknown();

  function unknown(): void {
    complain(
      say("draft.head", { found: head, known: listed(HEADS, 99) }),
      say("draft.head.fix", { guess: didYouMean(nearest(head, HEADS)) }),
      headAt,
    );
  }
  function readMaterial(id: string): void {
    const fields: Record<string, number | string> = {};
    for (const part of partsOf(body, ",")) {
      const diameter = /^(\d+(?:\.\d+)?)(?:\s*mm)?$/u.exec(part.text);
      const fibre = /^fibre\s+(.+)$/u.exec(part.text);
      if (diameter !== null) fields.diameterMm = Number(diameter[1]);
      else if (fibre !== null) fields.fibre = unquoted(fibre[1] as string);
      else {
        const pair = keyed(part, MATERIAL_KEYS);
        if (pair !== undefined) fields[pair[0]] = pair[1];
      }
    }
    if (id === "" || fields.diameterMm === undefined)
      complain(
        say("draft.material-form", { head, what: id === "" ? "name" : "diameter" }),
        say("draft.material-form.fix"),
      );
    else push("materials", { id, ...(fields as { diameterMm: number }) });
  }
}

/** Per cent as a fraction; divided, so that 27 gives 0.27 itself. */
function percent(value: number): number {
  return value / 100;
}
