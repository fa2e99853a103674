/** What an editor does to a plan's lines, tabs and parts: renames with what refers to them, adds, removes, keeps tiers and totals. */
import { type EditOp, type EditPath, fieldOps, listAt, valueAt, withOps } from "./edit-steps.ts";
import { PULLEY } from "./schema.ts";

/** The halves that a plan file spells out: one for both sides, or each side. */
export type EditHalf = "mirrored" | "left" | "right";
export type EditList = "lines" | "tabs" | "materials" | "risers" | "maillons" | "settings";

type Fields = Readonly<Record<string, unknown>>;

/** The halves of a plan, as far as it has any. */
export function halvesOf(plan: unknown): readonly EditHalf[] {
  const sides = valueAt(plan, ["sides"]);
  return (["mirrored", "left", "right"] as const).filter(
    (half) => typeof sides === "object" && sides !== null && Object.hasOwn(sides, half),
  );
}

/** Where a list stands; lines and tabs are those of a half. */
export function listPath(list: EditList, half: EditHalf): EditPath {
  return list === "lines" || list === "tabs" ? ["sides", half, list] : [list];
}

/** A plan without what it may say of what its lines carry: that follows from what hangs on them, and an edit mustn't contradict it. */
export function withoutCarries(plan: unknown): unknown {
  const ops = halvesOf(plan).flatMap((half) =>
    listAt(plan, listPath("lines", half)).flatMap((_, index) =>
      fieldOps(plan, [...listPath("lines", half), index, "carries"], undefined),
    ),
  );
  return withOps(plan, ops);
}

/** Collects changes while each sees what those before it did. */
function collector(plan: unknown) {
  let now = plan;
  const ops: EditOp[] = [];
  return {
    now: () => now,
    ops: (): readonly EditOp[] => ops,
    add: (more: readonly EditOp[]): void => {
      ops.push(...more);
      now = withOps(now, more);
    },
  };
}

const idsOf = (list: readonly Fields[]): readonly unknown[] => list.map((one) => one.id);

/** Places that refer to a member of a list by its name. */
function referencesTo(plan: unknown, list: EditList, half: EditHalf, id: string): readonly EditPath[] {
  const inHalves = (halves: readonly EditHalf[], of: "lines" | "tabs", field: string): EditPath[] =>
    halves.flatMap((each) =>
      listAt(plan, listPath(of, each)).flatMap((one, index) =>
        one[field] === id ? [[...listPath(of, each), index, field]] : [],
      ),
    );
  switch (list) {
    case "lines":
      return [
        ...(idsOf(listAt(plan, ["maillons"])).includes(id) ? [] : inHalves([half], "lines", "hangsOn")),
        ...inHalves([half], "tabs", "line"),
      ];
    case "maillons":
      return inHalves(halvesOf(plan), "lines", "hangsOn");
    case "materials":
      return inHalves(halvesOf(plan), "lines", "material");
    case "risers":
      return [
        ...listAt(plan, ["maillons"]).flatMap((one, index): EditPath[] =>
          one.riser === id ? [["maillons", index, "riser"]] : [],
        ),
        ...(valueAt(plan, ["brakes", "pulleyRiser"]) === id ? [["brakes", "pulleyRiser"]] : []),
      ];
    case "tabs":
    case "settings":
      return [];
  }
}

/**
 * Gives a member of a list another name, and all that refers to it with it. Where the old name wasn't its alone, or the new
 * one is already taken, what refers to it stays: whom that means can't be told.
 */
export function renameOps(
  plan: unknown,
  list: EditList,
  half: EditHalf,
  index: number,
  name: unknown,
): readonly EditOp[] {
  const path = listPath(list, half);
  const ids = idsOf(listAt(plan, path));
  const old = ids[index];
  const maillons = idsOf(listAt(plan, ["maillons"]));
  const { add, now, ops } = collector(plan);
  add(fieldOps(plan, [...path, index, "id"], name));
  const free =
    typeof name === "string" &&
    !ids.includes(name) &&
    !(list === "lines" && (maillons.includes(name) || name === PULLEY));
  if (!free || typeof old !== "string" || ids.filter((id) => id === old).length !== 1) return ops();
  for (const at of referencesTo(plan, list, half, old)) add(fieldOps(now(), at, name));
  if (list === "risers") {
    listAt(plan, ["settings"]).forEach((setting, place) => {
      const straps = setting.strapChangesMm as Fields | undefined;
      if (straps === undefined || !Object.hasOwn(straps, old)) return;
      const renamed = Object.fromEntries(
        Object.entries(straps).map(([id, mm]) => [id === old ? name : id, mm]),
      );
      add([{ op: "set", path: ["settings", place, "strapChangesMm"], before: straps, after: renamed }]);
    });
  }
  return ops();
}

/** Gives every line of a half the tier that follows from what it hangs on; lines that hang on nothing known stay. */
export function tierOps(plan: unknown, half: EditHalf): readonly EditOp[] {
  const path = listPath("lines", half);
  const lines = listAt(plan, path);
  const maillons = new Set(idsOf(listAt(plan, ["maillons"])));
  const byId = new Map(lines.map((line) => [line.id, line]));
  const tierOf = (line: Fields): number | undefined => {
    let tier = 1;
    let at: Fields | undefined = line;
    while (at !== undefined && tier <= lines.length) {
      if (at.hangsOn === PULLEY || maillons.has(at.hangsOn)) return tier;
      at = byId.get(at.hangsOn);
      tier++;
    }
    return undefined;
  };
  return lines.flatMap((line, index) => {
    const tier = tierOf(line);
    return tier === undefined ? [] : fieldOps(plan, [...path, index, "tier"], tier);
  });
}

/** What hangs above a line, by name: lines and tabs, directly or over others. */
export interface Above {
  readonly lines: readonly string[];
  readonly tabs: readonly string[];
}

/** What a line carries, directly and further up; the line itself is not among it. */
export function hangingAbove(plan: unknown, half: EditHalf, id: string): Above {
  const lines = listAt(plan, listPath("lines", half));
  const maillons = new Set(idsOf(listAt(plan, ["maillons"])));
  const found = new Set<string>([id]);
  if (!maillons.has(id))
    for (let before = 0; before < found.size; ) {
      before = found.size;
      for (const line of lines)
        if (typeof line.id === "string" && found.has(line.hangsOn as string)) found.add(line.id);
    }
  const tabs = listAt(plan, listPath("tabs", half)).flatMap((tab) =>
    typeof tab.id === "string" && found.has(tab.line as string) ? [tab.id] : [],
  );
  found.delete(id);
  return { lines: [...found], tabs };
}

/** Takes a line out, alone or with all that hangs on it. */
export function removeLineOps(
  plan: unknown,
  half: EditHalf,
  index: number,
  withAbove: boolean,
): readonly EditOp[] {
  const path = listPath("lines", half);
  const lines = listAt(plan, path);
  const id = lines[index]?.id;
  const above = withAbove && typeof id === "string" ? hangingAbove(plan, half, id) : { lines: [], tabs: [] };
  const gone = new Set(above.lines);
  const goneTabs = new Set(above.tabs);
  const { add, now, ops } = collector(plan);
  const tabs = listAt(plan, listPath("tabs", half));
  tabs.forEach((_, back) => {
    const place = tabs.length - 1 - back;
    if (goneTabs.has(tabs[place]?.id as string)) add(removeOps(now(), listPath("tabs", half), place));
  });
  lines.forEach((_, back) => {
    const place = lines.length - 1 - back;
    if (place === index || gone.has(lines[place]?.id as string)) add(removeOps(now(), path, place));
  });
  return ops();
}

/** Takes one member out of a list. */
export function removeOps(plan: unknown, path: EditPath, index: number): readonly EditOp[] {
  return [{ op: "remove", path, index, value: valueAt(plan, [...path, index]) }];
}

/** A name like another, with the next number that is free: A9 → A10. */
export function nextName(like: string, taken: ReadonlySet<unknown>): string {
  const parts = /^(.*?)(\d+)(\D*)$/u.exec(like);
  const [, head = like, number = "1", tail = ""] = parts ?? [];
  for (let next = Number(number) + 1; ; next++) {
    const name = `${head}${next}${tail}`;
    if (!taken.has(name)) return name;
  }
}

/**
 * Puts a new member behind one that it is like: with all its fields but a name of its own, and without what only the other
 * can have (a tab's stated total).
 */
export function addOps(plan: unknown, list: EditList, half: EditHalf, after: number): readonly EditOp[] {
  const path = listPath(list, half);
  const all = listAt(plan, path);
  const like = all[after] ?? all[all.length - 1] ?? {};
  const id = nextName(typeof like.id === "string" ? like.id : list, new Set(idsOf(all)));
  const { pathMm: _, ...rest } = like;
  const index = Math.min(after + 1, all.length);
  return [{ op: "insert", path, index, value: { ...rest, id } }];
}

/** Puts a tab at the end of a line, on its row, one rib beyond the tab before. */
export function addTabOps(plan: unknown, half: EditHalf, line: Fields): readonly EditOp[] {
  const path = listPath("tabs", half);
  const tabs = listAt(plan, path);
  const before = tabs.findLastIndex((tab) => tab.row === line.row);
  const like = tabs[before];
  const id = nextName(typeof like?.id === "string" ? like.id : `${line.row}0`, new Set(idsOf(tabs)));
  const rib = typeof like?.rib === "number" ? like.rib + 1 : 1;
  const index = before === -1 ? tabs.length : before + 1;
  return [{ op: "insert", path, index, value: { id, row: line.row, rib, line: line.id } }];
}

/** Spells out both sides where one half stood for both. */
export function sidesApartOps(plan: unknown): readonly EditOp[] {
  const sides = valueAt(plan, ["sides"]);
  const half = valueAt(plan, ["sides", "mirrored"]);
  if (half === undefined) return [];
  return [{ op: "set", path: ["sides"], before: sides, after: { left: half, right: half } }];
}

/** A tab's total as the lines below it make it [mm]; undefined where one has no length or the chain doesn't end. */
export type TotalOf = (tab: Fields) => number | undefined;

/** Totals of a half's tabs: lines less the loop at the maillon, plus the riser strap where the plan's totals begin at its base. */
export function totalsMm(plan: unknown, half: EditHalf): TotalOf {
  const lines = new Map(listAt(plan, listPath("lines", half)).map((line) => [line.id, line]));
  const maillons = new Map(listAt(plan, ["maillons"]).map((one) => [one.id, one.riser]));
  const risers = new Map(listAt(plan, ["risers"]).map((one) => [one.id, one.lengthMm]));
  const fromRiser = valueAt(plan, ["reference", "from"]) === "riser";
  return (tab) => {
    let total = 0;
    let id: unknown = tab.line;
    for (let members = 0; members <= lines.size; members++) {
      const line = lines.get(id);
      if (typeof line?.lengthMm !== "number") return undefined;
      total += line.lengthMm;
      const onMaillon = maillons.has(line.hangsOn);
      if (!onMaillon && line.hangsOn !== PULLEY) {
        id = line.hangsOn;
        continue;
      }
      const takeUp = (line.loop as Fields | undefined)?.takeUpMm;
      const strap = onMaillon && fromRiser ? risers.get(maillons.get(line.hangsOn)) : 0;
      if (typeof strap !== "number") return undefined;
      return Number((total + strap - (typeof takeUp === "number" ? takeUp : 0)).toFixed(6));
    }
    return undefined;
  };
}

/** Gives every tab that states a total the one that its lines make. */
export function totalsInStepOps(plan: unknown): readonly EditOp[] {
  return halvesOf(plan).flatMap((half) => {
    const totalOf = totalsMm(plan, half);
    return listAt(plan, listPath("tabs", half)).flatMap((tab, index) => {
      const total = totalOf(tab);
      if (tab.pathMm === undefined || total === undefined) return [];
      if (typeof tab.pathMm === "number" && Math.abs(tab.pathMm - total) < 0.05) return [];
      return fieldOps(plan, [...listPath("tabs", half), index, "pathMm"], total);
    });
  });
}
