/**
 * Steps of an edit on a plan as it may stand in a file, sound or not: each can be taken back. What was typed stays as it is,
 * be it a plan or not; whether it is one is for `parsePlan` to say.
 */

/** Where in the file: keys and places in lists, from the root. */
export type EditPath = readonly (string | number)[];

/** One change. Of a `set`, undefined stands for a key that isn't there. */
export type EditOp =
  | { readonly op: "set"; readonly path: EditPath; readonly before?: unknown; readonly after?: unknown }
  | { readonly op: "insert"; readonly path: EditPath; readonly index: number; readonly value: unknown }
  | { readonly op: "remove"; readonly path: EditPath; readonly index: number; readonly value: unknown };

type Fields = Readonly<Record<string, unknown>>;

const isFields = (value: unknown): value is Fields =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** The value at a path; undefined where there is none. */
export function valueAt(plan: unknown, path: EditPath): unknown {
  return path.reduce<unknown>((value, step) => {
    if (Array.isArray(value)) return typeof step === "number" ? value[step] : undefined;
    return isFields(value) && Object.hasOwn(value, step) ? value[String(step)] : undefined;
  }, plan);
}

/** The list at a path, its members as fields; members that are none count as empty. Empty where there is no list. */
export function listAt(plan: unknown, path: EditPath): readonly Fields[] {
  const value = valueAt(plan, path);
  return Array.isArray(value) ? value.map((one) => (isFields(one) ? one : {})) : [];
}

/** A copy with the value at a path put through a change; what lies off the path is shared. */
function changedAt(value: unknown, path: EditPath, change: (old: unknown) => unknown): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return change(value);
  if (Array.isArray(value)) {
    if (typeof step !== "number" || step >= value.length) return value;
    return value.map((one, index) => (index === step ? changedAt(one, rest, change) : one));
  }
  if (!isFields(value)) return value;
  const next = changedAt(Object.hasOwn(value, step) ? value[String(step)] : undefined, rest, change);
  if (next !== undefined) return { ...value, [step]: next };
  const { [String(step)]: _, ...others } = value;
  return others;
}

function withOp(plan: unknown, op: EditOp): unknown {
  switch (op.op) {
    case "set":
      return changedAt(plan, op.path, () => op.after);
    case "insert":
      return changedAt(plan, op.path, (list) =>
        Array.isArray(list) ? [...list.slice(0, op.index), op.value, ...list.slice(op.index)] : [op.value],
      );
    case "remove":
      return changedAt(plan, op.path, (list) =>
        Array.isArray(list) ? list.filter((_, index) => index !== op.index) : list,
      );
  }
}

/** The plan after changes, in their order; parts that none of them touches are shared with the plan before. */
export function withOps(plan: unknown, ops: readonly EditOp[]): unknown {
  return ops.reduce<unknown>(withOp, plan);
}

function invertedOp(op: EditOp): EditOp {
  switch (op.op) {
    case "set":
      return { op: "set", path: op.path, before: op.after, after: op.before };
    case "insert":
      return { ...op, op: "remove" };
    case "remove":
      return { ...op, op: "insert" };
  }
}

/** The changes that undo these. */
export function inverted(ops: readonly EditOp[]): readonly EditOp[] {
  return [...ops].reverse().map(invertedOp);
}

/**
 * The change that gives a field a value; undefined empties it. Objects on the way that aren't there come into being, and one
 * that loses its last field goes, unless it is a member of a list or the root's. No change where the field has the value.
 */
export function fieldOps(plan: unknown, path: EditPath, value: unknown): readonly EditOp[] {
  if (valueAt(plan, path) === value) return [];
  if (value === undefined) {
    const parent = path.slice(0, -1);
    const fields = valueAt(plan, parent);
    const alone = isFields(fields) && Object.keys(fields).length === 1;
    const inList = typeof parent[parent.length - 1] === "number";
    if (alone && !inList && parent.length > 0) return fieldOps(plan, parent, undefined);
    return [{ op: "set", path, before: valueAt(plan, path), after: undefined }];
  }
  // From the nearest object that is there; what lies between comes with the value.
  let depth = path.length - 1;
  while (depth > 0 && valueAt(plan, path.slice(0, depth)) === undefined) depth--;
  const after = path.slice(depth + 1).reduceRight<unknown>((inner, step) => ({ [step]: inner }), value);
  const at = path.slice(0, depth + 1);
  return [{ op: "set", path: at, before: valueAt(plan, at), after }];
}
