/** The shape of a network file as a schema, and a mismatch with it told in plain words. */
import * as z from "zod";
import { type JsonSchema, jsonSchemaOf, type Problem, problemsFromIssues } from "../plan/index.ts";

const id = z
  .union([z.string().min(1), z.number().int()])
  .describe("A text that isn't empty, or a whole number");
const vector = z
  .union([z.tuple([z.number(), z.number()]), z.tuple([z.number(), z.number(), z.number()])])
  .describe("Two or three finite numbers in square brackets");
const fixed = z
  .union([
    z.boolean(),
    z.literal("all"),
    z.array(z.enum(["x", "y", "z"])),
    z.tuple([z.boolean(), z.boolean()]),
    z.tuple([z.boolean(), z.boolean(), z.boolean()]),
  ])
  .describe(
    'Directions in which the node is held: true or "all"; ["x", "z"]; or one true/false for each direction',
  );

const nodeFields = {
  id: id.optional().describe("Default: the place in the list, counted from 0"),
  fixed: fixed.optional(),
  load: vector.optional().describe("Force on the node, fixed in direction"),
  note: z.string().optional(),
};
const nodeAtPosition = z.strictObject({ ...nodeFields, position: vector });
const nodeAtCoordinates = z.strictObject({
  ...nodeFields,
  x: z.number(),
  y: z.number(),
  z: z.number().optional(),
});

const member = z.strictObject({
  id: id.optional().describe("Default: the place in the list, counted from 0"),
  nodes: z.tuple([id, id]).optional().describe("Two node ids in square brackets"),
  from: id.optional(),
  to: id.optional(),
  EA: z.number().optional().describe("Axial stiffness [force]"),
  ea: z.number().optional().describe("Same as EA"),
  E: z.number().optional().describe("Modulus [force/length²], together with A"),
  A: z.number().optional().describe("Section area [length²], together with E"),
  unstretched: z.number().optional().describe("Unstretched length; default the distance between the nodes"),
  unstretchedLength: z.number().optional().describe("Same as unstretched"),
  L0: z.number().optional().describe("Same as unstretched"),
  pretension: z
    .number()
    .optional()
    .describe("Force at the given positions, tension positive; in place of an unstretched length"),
  kind: z
    .enum(["line", "cable", "tension-only", "bar", "strut", "truss"])
    .optional()
    .describe("line, cable, tension-only: slack when short (default); bar, strut, truss: carries both"),
  massPerLength: z.number().nonnegative().optional().describe("Mass over unstretched length; needs gravity"),
  weightPerLength: z.number().nonnegative().optional().describe("Weight over unstretched length"),
  note: z.string().optional(),
});

const support = z
  .union([id, z.strictObject({ node: id, fixed: fixed.optional() })])
  .describe('A node id, held in all directions, or {"node": id, "fixed": ["x", "z"]}');
const nodalLoad = z.strictObject({ node: id, force: vector });

/** The network file, as a schema. What it can't express (references, alternatives) `parseNetwork` checks. */
export const networkFileSchema = z
  .strictObject({
    $schema: z.string().optional(),
    format: z.literal("linewright-network").optional(),
    version: z.literal(1).optional(),
    name: z.string().optional(),
    note: z.string().optional(),
    units: z.unknown().optional().describe("A note for the reader; any one consistent system passes through"),
    nodes: z.array(
      z
        .union([vector, nodeAtPosition, nodeAtCoordinates])
        .describe('[x, y, z], or {"position": [x, y, z], …}, or {"x": …, "y": …, "z": …, …}'),
    ),
    members: z.array(member),
    supports: z.array(support).optional(),
    loads: z.union([z.array(nodalLoad), z.record(z.string(), vector)]).optional(),
    gravity: z
      .union([z.number().nonnegative(), vector])
      .optional()
      .describe("Acceleration: a size (downwards: -z, in two dimensions -y) or a vector"),
    options: z
      .strictObject({
        tolerance: z.number().positive().optional(),
        maxIterations: z.number().int().positive().optional(),
      })
      .optional(),
  })
  .describe("A network of straight members that are pinned at their ends");

/** A node's or member's name in the file. `1` and `"1"` are the same name. */
export type NetworkId = string | number;

export type NetworkFile = z.infer<typeof networkFileSchema>;
export type FileMember = NetworkFile["members"][number];
/** Two or three numbers. */
export type FileVector = z.infer<typeof vector>;
export type FileFixed = z.infer<typeof fixed>;

/** JSON Schema of the network file, as published beside the program. */
export function networkJsonSchema(): JsonSchema {
  return jsonSchemaOf(networkFileSchema);
}

/** What in a value doesn't have the shape of a network file: one problem for each place. */
export function shapeProblems(error: z.ZodError, json: unknown): readonly Problem[] {
  const issues = error.issues.flatMap((issue) => meantIssues(issue, []));
  return problemsFromIssues(issues, json, networkFileSchema);
}

/** A node may be a list or an object: of such alternatives, only what is wrong with the one that was meant. */
function meantIssues(issue: z.core.$ZodIssue, above: readonly PropertyKey[]): z.core.$ZodIssue[] {
  const path = [...above, ...issue.path];
  if (issue.code === "invalid_union") {
    const meant = issue.errors
      .filter((branch) => !branch.some(isOtherKind))
      .sort((a, b) => a.length - b.length)[0];
    if (meant !== undefined) return meant.flatMap((inner) => meantIssues(inner, path));
  }
  return [{ ...issue, path }];
}

/** Whether an alternative failed at its very root: then it wasn't the one the writer meant. */
function isOtherKind(issue: z.core.$ZodIssue): boolean {
  if (issue.path.length > 0 || issue.code === "unrecognized_keys") return false;
  if (issue.code === "invalid_union") return issue.errors.every((branch) => branch.some(isOtherKind));
  return true;
}
