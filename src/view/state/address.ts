/** The screen's address: choices to the part after `#` and back. What is as at first is left out. */
import { ROWS, type Row, SIDES } from "../../plan/model.ts";
import {
  AGAINST,
  type Choices,
  COLOUR_OF,
  COLOURED_BY,
  COMPARE,
  DIRECTIONS,
  INITIAL,
  LEAST_EXAGGERATION,
  MOST_EXAGGERATION,
  NOTHING,
  PANES,
  type Picked,
  PLAN_PARTS,
  SHOWN,
  STRIPS,
  WING_IDS,
} from "./choices.ts";
import { AS_SPECIFIED, MOST_PULL_MM, type Rigging } from "./rigging.ts";
import { changed, NOTHING_TRIED, type Tried } from "./trials.ts";

/** Escapes only what would break the address apart, so that `left:A1` stays legible. */
const legible = (text: string): string =>
  encodeURIComponent(text).replaceAll("%3A", ":").replaceAll("%2C", ",").replaceAll("%40", "@");

/** The address of these choices, with its leading `#`. */
export function formatAddress(choices: Choices): string {
  const parts: string[] = [`wing=${choices.wing}`, `shown=${choices.shown}`];
  const put = (name: string, value: string): void => {
    parts.push(`${name}=${legible(value)}`);
  };
  if (choices.exaggeration !== INITIAL.exaggeration) put("shape", String(choices.exaggeration));
  if (choices.pane !== INITIAL.pane) put("pane", choices.pane);
  if (choices.planPart !== INITIAL.planPart) put("plan", choices.planPart);
  if (choices.direction !== INITIAL.direction) put("from", choices.direction);
  if (choices.rows.size !== ROWS.length) put("rows", ROWS.filter((row) => choices.rows.has(row)).join(","));
  if (choices.sides.size !== SIDES.length)
    put("sides", SIDES.filter((side) => choices.sides.has(side)).join(","));
  if (choices.rangeM !== undefined) put("range", String(Math.round(choices.rangeM * 1000)));
  for (const [id, percent] of Object.entries(choices.rigging.percent))
    if (percent !== 0) put("rig", `${percent}@${id}`);
  if (choices.rigging.weightKg !== undefined) put("kg", String(choices.rigging.weightKg));
  const { left, right } = choices.rigging.brakeMm;
  if (left !== 0 || right !== 0) put("brakes", `${left},${right}`);
  for (const [key, mm] of choices.trials) put("try", `${mm}@${key}`);
  for (const [key, kindId] of choices.loops) put("loop", `${kindId}@${key}`);
  if (choices.strip !== INITIAL.strip) put("strip", choices.strip);
  if (choices.rib !== undefined) put("rib", String(choices.rib));
  if (choices.ribSide !== INITIAL.ribSide) put("rib-side", choices.ribSide);
  if (choices.colouredBy !== INITIAL.colouredBy) put("colour", choices.colouredBy);
  if (choices.against !== undefined) put("against", choices.against);
  if (choices.compare !== INITIAL.compare) put("two", choices.compare);
  if (choices.wipeAt !== INITIAL.wipeAt) put("divider", String(Math.round(1000 * choices.wipeAt) / 10));
  if (choices.colourOf !== INITIAL.colourOf) put("tint", choices.colourOf);
  switch (choices.picked.kind) {
    case "line":
      put("line", choices.picked.key);
      break;
    case "finding":
      put("finding", choices.picked.id);
      break;
    case "row":
      put("row", choices.picked.row);
      break;
    case "lines":
    case "none":
  }
  return `#${parts.join("&")}`;
}

function oneOf<T extends string>(allowed: readonly T[], text: string | null, fallback: T): T {
  return allowed.find((value) => value === text) ?? fallback;
}

function someOf<T extends string>(allowed: readonly T[], text: string | null): ReadonlySet<T> {
  if (text === null) return new Set(allowed);
  const wanted = new Set(text.split(","));
  return new Set(allowed.filter((value) => wanted.has(value)));
}

function whole(text: string | null, low: number, high: number): number | undefined {
  const value = text === null || text === "" ? Number.NaN : Number(text);
  return Number.isFinite(value) ? Math.min(high, Math.max(low, Math.round(value))) : undefined;
}

/** A percentage with at most one decimal as a share, 0 to 1. */
function share(text: string | null): number | undefined {
  const value = text === null || text === "" ? Number.NaN : Number(text);
  return Number.isFinite(value) ? Math.round(10 * Math.min(100, Math.max(0, value))) / 1000 : undefined;
}

function pickedFrom(fields: URLSearchParams): Picked {
  const line = fields.get("line");
  if (line !== null && line !== "") return { kind: "line", key: line };
  const finding = fields.get("finding");
  if (finding !== null && finding !== "") return { kind: "finding", id: finding };
  const row = ROWS.find((name: Row) => name === fields.get("row"));
  return row === undefined ? NOTHING : { kind: "row", row };
}

/** `12@name` fields as pairs; what isn't of that form is left out. */
function amounts(fields: URLSearchParams, name: string): readonly (readonly [string, number])[] {
  return fields.getAll(name).flatMap((text) => {
    const [, amount, of] = /^(-?\d{1,3})@(.+)$/.exec(text) ?? [];
    return amount === undefined || of === undefined ? [] : [[of, Number(amount)] as const];
  });
}

function riggingFrom(fields: URLSearchParams): Rigging {
  const percent = amounts(fields, "rig").map(
    ([id, share]) => [id, Math.min(100, Math.max(0, share))] as const,
  );
  const [left, right] = (fields.get("brakes") ?? "").split(",");
  return {
    percent: Object.fromEntries(percent.filter(([, share]) => share !== 0)),
    weightKg: whole(fields.get("kg"), 20, 500),
    brakeMm: {
      left: whole(left ?? null, 0, MOST_PULL_MM) ?? AS_SPECIFIED.brakeMm.left,
      right: whole(right ?? null, 0, MOST_PULL_MM) ?? AS_SPECIFIED.brakeMm.right,
    },
  };
}

function triedFrom(fields: URLSearchParams): Tried {
  const lengths = amounts(fields, "try").reduce(
    (tried, [key, mm]) => changed(tried, { kind: "set", lineKeys: [key], mm }),
    NOTHING_TRIED,
  );
  // A line's name holds no @ before its side; a kind that only the plan knows may hold anything.
  const loops = fields.getAll("loop").flatMap((text) => {
    const [, kindId, key] = /^(.+)@((?:left|right):.+)$/.exec(text) ?? [];
    return kindId === undefined || key === undefined ? [] : [[key, kindId] as const];
  });
  return changed(lengths, { kind: "tie all", loops: new Map(loops) });
}

/**
 * Choices from an address; whatever is missing or not understood is as at first.
 * @param address with or without its leading `#`
 * @param wing the wing to show where the address names none
 */
export function parseAddress(address: string, wing: Choices["wing"] = INITIAL.wing): Choices {
  const fields = new URLSearchParams(address.replace(/^#/, ""));
  const rangeMm = whole(fields.get("range"), 5, 200);
  return {
    wing: oneOf(WING_IDS, fields.get("wing"), wing),
    shown: oneOf(SHOWN, fields.get("shown"), INITIAL.shown),
    exaggeration: whole(fields.get("shape"), LEAST_EXAGGERATION, MOST_EXAGGERATION) ?? INITIAL.exaggeration,
    rows: someOf(ROWS, fields.get("rows")),
    sides: someOf(SIDES, fields.get("sides")),
    picked: pickedFrom(fields),
    pane: oneOf(PANES, fields.get("pane"), INITIAL.pane),
    planPart: oneOf(PLAN_PARTS, fields.get("plan"), INITIAL.planPart),
    direction: oneOf(DIRECTIONS, fields.get("from"), INITIAL.direction),
    rangeM: rangeMm === undefined ? undefined : rangeMm / 1000,
    rigging: riggingFrom(fields),
    ...triedFrom(fields),
    strip: oneOf(STRIPS, fields.get("strip"), INITIAL.strip),
    rib: whole(fields.get("rib"), 1, 500),
    ribSide: oneOf(SIDES, fields.get("rib-side"), INITIAL.ribSide),
    colouredBy: oneOf(COLOURED_BY, fields.get("colour"), INITIAL.colouredBy),
    against: AGAINST.find((value) => value === fields.get("against")),
    compare: oneOf(COMPARE, fields.get("two"), INITIAL.compare),
    wipeAt: share(fields.get("divider")) ?? INITIAL.wipeAt,
    colourOf: oneOf(COLOUR_OF, fields.get("tint"), INITIAL.colourOf),
  };
}

/** Whether going from one set of choices to the next is a step worth coming back from; sliding and turning are not. */
export function isStep(from: Choices, to: Choices): boolean {
  return (
    from.wing !== to.wing ||
    from.shown !== to.shown ||
    from.pane !== to.pane ||
    from.planPart !== to.planPart ||
    from.strip !== to.strip ||
    from.against !== to.against ||
    from.compare !== to.compare ||
    JSON.stringify(from.picked) !== JSON.stringify(to.picked)
  );
}
