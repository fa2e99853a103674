/**
 * What an edit changed in a plan file, field by field, sound or not, each change with the steps that take it back. A member
 * that was renamed is known by where it came from, and what refers to it by its new name hasn't changed.
 */
import {
  type EditHalf,
  type EditList,
  halvesOf,
  listPath,
  removeOps,
  renameOps,
  tierOps,
} from "./edit-plan.ts";
import { type EditOp, type EditPath, fieldOps, listAt, valueAt, withOps } from "./edit-steps.ts";

export interface EditChange {
  readonly kind: "changed" | "added" | "removed" | "sides apart";
  /** Undefined for what is said of the wing as a whole. */
  readonly list: EditList | undefined;
  readonly half: EditHalf | undefined;
  /** Name of the member now, or as it was where it is gone; empty for the wing as a whole. */
  readonly id: string;
  /** The field: within the member, or of the whole file. */
  readonly field: EditPath;
  /** Where it stands now; undefined where it is gone. */
  readonly path: EditPath | undefined;
  readonly before: unknown;
  readonly after: unknown;
  /** Steps on the plan as it is now that make it as it was. */
  readonly back: readonly EditOp[];
}

type Fields = Readonly<Record<string, unknown>>;

const ORIGIN = "\u0000origin";
const LISTS: readonly EditList[] = ["risers", "maillons", "materials", "settings", "lines", "tabs"];
/** A tier follows from what the line hangs on. */
const DERIVED: ReadonlySet<string> = new Set(["tier", "carries"]);

/** Marks every member of a list with its name, so that it is known again whatever becomes of it. */
function marked(plan: unknown): unknown {
  const paths = LISTS.flatMap((list) =>
    list === "lines" || list === "tabs"
      ? halvesOf(plan).map((half) => listPath(list, half))
      : [listPath(list, "mirrored")],
  );
  return withOps(
    plan,
    paths.map(
      (path): EditOp => ({
        op: "set",
        path,
        after: listAt(plan, path).map((one) => ({ ...one, [ORIGIN]: one.id })),
      }),
    ),
  );
}

/** What each member of a list was called before the edit; undefined for one that is new. */
export type Origins = (list: EditList, half: EditHalf) => readonly (string | undefined)[];

/** One step on a plan whose members are marked: the sides that are spelled out have the marks of the half they come from. */
function followed(plan: unknown, op: EditOp): unknown {
  const half = valueAt(plan, ["sides", "mirrored"]);
  const apart =
    op.op === "set" &&
    op.path.length === 1 &&
    op.path[0] === "sides" &&
    halvesOf({ sides: op.after }).length === 2;
  return withOps(plan, [
    apart && half !== undefined ? { op: "set", path: ["sides"], after: { left: half, right: half } } : op,
  ]);
}

/** Follows the members of all lists through an edit. */
export function originsOf(base: unknown, ops: readonly EditOp[]): Origins {
  const now = ops.reduce(followed, marked(base));
  return (list, half) => {
    const members = listAt(now, listPath(list, half));
    const origins = members.map((one) => one[ORIGIN] as string | undefined);
    const before = new Set(listAt(base, baseList(base, list, half)).map(({ id }) => id));
    const claimed = new Set(origins);
    // One that was taken out and put back is the same.
    return origins.map((origin, index) => {
      const id = members[index]?.id;
      return origin ?? (typeof id === "string" && before.has(id) && !claimed.has(id) ? id : undefined);
    });
  };
}

/** Where a list stood in the version before: one half for both sides, perhaps. */
function baseList(base: unknown, list: EditList, half: EditHalf): EditPath {
  const halves = halvesOf(base);
  return listPath(list, halves.includes(half) ? half : (halves[0] ?? half));
}

/** A field's values in depth, empty objects left out: `loop.takeUpMm`. */
function leaves(value: unknown, path: EditPath = []): readonly (readonly [EditPath, unknown])[] {
  if (typeof value !== "object" || value === null || Array.isArray(value)) return [[path, value]];
  return Object.entries(value).flatMap(([key, inner]) => leaves(inner, [...path, key]));
}

function pairs(before: unknown, after: unknown): readonly { field: EditPath; was: unknown; is: unknown }[] {
  const was = new Map(leaves(before).map(([path, value]) => [path.join("\u0000"), { path, value }]));
  const is = new Map(leaves(after).map(([path, value]) => [path.join("\u0000"), { path, value }]));
  return [...new Set([...was.keys(), ...is.keys()])].flatMap((key) => {
    const field = was.get(key)?.path ?? is.get(key)?.path ?? [];
    const [a, b] = [was.get(key)?.value, is.get(key)?.value];
    return JSON.stringify(a) === JSON.stringify(b) ? [] : [{ field, was: a, is: b }];
  });
}

/** Old names of what a list's members refer to → those of now. */
type Renamed = (field: string, id: unknown) => unknown;

function renamesIn(now: unknown, origins: Origins, half: EditHalf): Renamed {
  const of = (list: EditList): ReadonlyMap<unknown, unknown> => {
    const ids = listAt(now, listPath(list, half)).map(({ id }) => id);
    return new Map(
      origins(list, half).flatMap((origin, index) => (origin === undefined ? [] : [[origin, ids[index]]])),
    );
  };
  const maps: Readonly<Record<string, ReadonlyMap<unknown, unknown>>> = {
    line: of("lines"),
    hangsOn: new Map([...of("lines"), ...of("maillons")]),
    material: of("materials"),
    riser: of("risers"),
    pulleyRiser: of("risers"),
    straps: of("risers"),
  };
  return (field, id) => maps[field]?.get(id) ?? id;
}

/** A member as it was, in the names of now. */
function inNamesOfNow(member: Fields, renamed: Renamed): Fields {
  return Object.fromEntries(
    Object.entries(member)
      .filter(([field]) => !DERIVED.has(field))
      .map(([field, value]) =>
        field === "strapChangesMm" && typeof value === "object" && value !== null
          ? [field, Object.fromEntries(Object.entries(value).map(([id, mm]) => [renamed("straps", id), mm]))]
          : [field, renamed(field, value)],
      ),
  );
}

/**
 * All changes from the version before to the plan as it is now: the wing as a whole, then the parts, then lines and tabs.
 * @param ops the steps that led from the one to the other
 */
export function editChanges(base: unknown, now: unknown, ops: readonly EditOp[]): readonly EditChange[] {
  const origins = originsOf(base, ops);
  const halves = halvesOf(now);
  const first = halves[0] ?? "mirrored";
  const apart = halves.length > halvesOf(base).length;
  const whole = (plan: unknown): Fields =>
    Object.fromEntries(
      Object.entries((plan ?? {}) as Fields).filter(
        ([key]) => key !== "sides" && !LISTS.includes(key as EditList),
      ),
    );
  const renamed = renamesIn(now, origins, first);
  const before = whole(base);
  const brakes =
    before.brakes === undefined ? {} : { brakes: inNamesOfNow(before.brakes as Fields, renamed) };
  return [
    ...(apart
      ? [
          {
            kind: "sides apart" as const,
            list: undefined,
            half: undefined,
            id: "",
            field: ["sides"],
            path: ["sides"],
            before: undefined,
            after: undefined,
            back: [
              {
                op: "set" as const,
                path: ["sides"],
                before: valueAt(now, ["sides"]),
                after: valueAt(base, ["sides"]),
              },
            ],
          },
        ]
      : []),
    ...pairs({ ...before, ...brakes }, whole(now)).map(
      ({ field, was, is }): EditChange => ({
        kind: "changed",
        list: undefined,
        half: undefined,
        id: "",
        field,
        path: field,
        before: was,
        after: is,
        back: fieldOps(now, field, was),
      }),
    ),
    ...LISTS.flatMap((list) =>
      (list === "lines" || list === "tabs" ? halves : [first]).flatMap((half) =>
        listChanges(base, now, list, half, origins),
      ),
    ),
  ];
}

function listChanges(
  base: unknown,
  now: unknown,
  list: EditList,
  half: EditHalf,
  origins: Origins,
): readonly EditChange[] {
  const renamed = renamesIn(now, origins, half);
  const was = listAt(base, baseList(base, list, half));
  const is = listAt(now, listPath(list, half));
  const path = listPath(list, half);
  const from = origins(list, half);
  const said = { list, half: list === "lines" || list === "tabs" ? half : undefined };
  const tiersAfter = (ops: readonly EditOp[]): readonly EditOp[] =>
    list === "lines" ? [...ops, ...tierOps(withOps(now, ops), half)] : ops;
  const before = new Map(was.map((one) => [one.id, one]));
  return [
    ...was.flatMap((one, index): EditChange[] => {
      if (from.includes(one.id as string)) return [];
      const back: EditOp = {
        op: "insert",
        path,
        index: Math.min(index, is.length),
        value: { ...one, ...inNamesOfNow(one, renamed) },
      };
      return [
        {
          kind: "removed",
          ...said,
          id: String(one.id),
          field: [],
          path: undefined,
          before: one,
          after: undefined,
          back: tiersAfter([back]),
        },
      ];
    }),
    ...is.flatMap((one, index): readonly EditChange[] => {
      const id = String(one.id ?? "");
      const old = before.get(from[index]);
      if (old === undefined)
        return [
          {
            kind: "added",
            ...said,
            id,
            field: [],
            path: [...path, index, "id"],
            before: undefined,
            after: one,
            back: removeOps(now, path, index),
          },
        ];
      const { tier: _tier, carries: _carries, ...present } = one;
      return pairs(inNamesOfNow(old, renamed), present).map(({ field, was: a, is: b }): EditChange => {
        const at = [...path, index, ...field];
        const back =
          field[0] === "id" ? renameOps(now, list, half, index, a) : tiersAfter(fieldOps(now, at, a));
        return { kind: "changed", ...said, id, field, path: at, before: a, after: b, back };
      });
    }),
  ];
}
