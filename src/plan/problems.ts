/** Sentences for what a zod schema finds wrong: where, what was found, what was expected, what to do. */

import type * as z from "zod";
import { type Key, listed, say, speech } from "../words/index.ts";
import { type JsonSchema, jsonSchemaOf } from "./json-schema.ts";
import type { Problem } from "./model.ts";

type Issue = z.core.$ZodIssue;
type Path = readonly PropertyKey[];

/** Where a problem of the whole file is. */
const wholeFile = (): string => say("plan.shape.file");

/** A path as people write it: `sides.left.lines[3].hangsOn`; say("plan.shape.file") for the root. */
export function formatPath(path: Path): string {
  if (path.length === 0) return wholeFile();
  return path.reduce<string>((text, step) => {
    if (typeof step === "number") return `${text}[${step}]`;
    return text === "" ? String(step) : `${text}.${String(step)}`;
  }, "");
}

function valueAt(input: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (value, step) =>
      typeof value === "object" && value !== null ? (value as Record<PropertyKey, unknown>)[step] : undefined,
    input,
  );
}

/** What stands there, short enough for a sentence. */
function shown(value: unknown): string {
  if (value === undefined) return say("plan.shape.nothing");
  if (value === null) return "null";
  if (Array.isArray(value)) return value.length === 0 ? say("plan.shape.empty-list") : say("plan.shape.list");
  if (typeof value === "object") return say("plan.shape.object");
  const text = JSON.stringify(value) ?? String(value);
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}

const TYPE_NAMES: Readonly<Record<string, Key>> = {
  number: "plan.shape.number",
  int: "plan.shape.whole",
  string: "plan.shape.text",
  boolean: "plan.shape.boolean",
  array: "plan.shape.list",
  object: "plan.shape.object",
  record: "plan.shape.object",
};

/** Id of the innermost line, tab, material … that a path leads through: what a person would call it. */
function subjectAt(input: unknown, path: Path): string | undefined {
  for (let length = path.length; length > 0; length--) {
    const value = valueAt(input, path.slice(0, length));
    if (typeof value !== "object" || value === null) continue;
    const { id, tab, line } = value as { id?: unknown; tab?: unknown; line?: unknown };
    for (const name of [id, tab, line]) if (typeof name === "string" && name !== "") return name;
  }
  return undefined;
}

/** The schema nodes that a path leads to, unions followed on every branch. */
function schemasAt(root: JsonSchema, path: Path): readonly JsonSchema[] {
  const open = (node: unknown): JsonSchema[] => {
    if (typeof node !== "object" || node === null) return [];
    const schema = node as { $ref?: string; anyOf?: unknown[]; $defs?: unknown };
    if (schema.$ref !== undefined) {
      const target = valueAt(root, schema.$ref.replace(/^#\//, "").split("/"));
      return open({ ...(target as object), ...schema, $ref: undefined });
    }
    return [schema as JsonSchema, ...(schema.anyOf ?? []).flatMap(open)];
  };
  let nodes = open(root);
  for (const step of path) {
    nodes = nodes.flatMap((node) => {
      if (typeof step === "number") return open(node.items);
      const properties = node.properties as Record<string, unknown> | undefined;
      return open(properties?.[String(step)] ?? node.additionalProperties);
    });
  }
  return nodes;
}

const lowerFirst = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);

function limitText(issue: Extract<Issue, { code: "too_small" | "too_big" }>): string {
  const small = issue.code === "too_small";
  const limit = small ? issue.minimum : issue.maximum;
  const size = { limit: String(limit), count: Number(limit), way: small ? "least" : "most" };
  if (issue.origin === "array") return say("plan.shape.entries", size);
  if (issue.origin === "string") return issue.message;
  return say(issue.inclusive === false ? "plan.shape.beyond" : "plan.shape.bound", {
    limit: size.limit,
    way: size.way,
  });
}

/** Of a union's branches, the one that the input was most likely meant as: fewest faults on its own level. */
function likeliestBranch(branches: readonly (readonly Issue[])[]): readonly Issue[] {
  const own = (issues: readonly Issue[]): number =>
    issues.reduce(
      (sum, issue) =>
        sum + (issue.path.length > 1 ? 0 : issue.code === "unrecognized_keys" ? issue.keys.length : 1),
      0,
    );
  return branches.reduce((best, branch) => (own(branch) < own(best) ? branch : best));
}

/**
 * Problems from the issues of a zod schema, for any of our file formats.
 *
 * @param issues what zod found
 * @param input the value that was parsed, to say what stands there
 * @param schema the schema, to say what a field means
 */
export function problemsFromIssues(
  issues: readonly Issue[],
  input: unknown,
  schema: z.ZodType,
): readonly Problem[] {
  let described: JsonSchema | undefined;
  const nodesAt = (path: Path): readonly JsonSchema[] => {
    described ??= jsonSchemaOf(schema);
    return schemasAt(described, path);
  };
  /** What the schema says of a field; schemas are in English alone. */
  const meaning = (path: Path): string | undefined =>
    nodesAt(path)
      .map((node) => node.description)
      .find((text): text is string => typeof text === "string" && speech().language === "en");

  const one = (issue: Issue, base: Path): readonly Problem[] => {
    const path = [...base, ...issue.path];
    const last = path[path.length - 1];
    const field =
      last === undefined
        ? say("plan.shape.the-file")
        : typeof last === "number"
          ? formatPath(path.slice(-2))
          : String(last);
    const found = valueAt(input, path);
    const means = meaning(path);
    const problem = (where: Path, message: string, remedy: string): Problem => ({
      severity: "error",
      where: formatPath(where),
      subject: subjectAt(input, where),
      message,
      remedy,
    });
    const give =
      means === undefined || path.length === 0
        ? say("plan.shape.correct", { field })
        : say("plan.shape.correct-to", { field, means: lowerFirst(means) });
    switch (issue.code) {
      case "unrecognized_keys": {
        const known = [
          ...new Set(
            nodesAt(path).flatMap((node) => Object.keys((node.properties as object | undefined) ?? {})),
          ),
        ];
        return issue.keys.map((key) =>
          problem(
            [...path, key],
            say("plan.shape.unknown-key", {
              key,
              count: known.length,
              known: known.join(", "),
            }),
            means !== undefined && typeof last === "string"
              ? say("plan.shape.unknown-key.in", { field, means: lowerFirst(means) })
              : say("plan.shape.unknown-key.fix"),
          ),
        );
      }
      case "invalid_union":
        if (issue.errors.length > 0 && typeof found === "object" && found !== null) {
          return likeliestBranch(issue.errors).flatMap((inner) => one(inner, path));
        }
        return [problem(path, missingOr(field, found, say("plan.shape.some-form")), give)];
      case "invalid_type": {
        const name = TYPE_NAMES[issue.expected];
        const expected = name === undefined ? issue.expected : say(name);
        if (found === undefined && path.length > 0) {
          const remedy =
            means === undefined
              ? say("plan.shape.add", { field })
              : say("plan.shape.add-as", { field, means: lowerFirst(means) });
          return [problem(path, say("plan.shape.missing", { field, expected }), remedy)];
        }
        return [problem(path, missingOr(field, found, expected), give)];
      }
      case "invalid_value":
        return [
          problem(
            path,
            missingOr(
              field,
              found,
              listed(
                issue.values.map((value) => JSON.stringify(value)),
                "or",
              ),
            ),
            give,
          ),
        ];
      case "too_small":
      case "too_big":
        return [problem(path, missingOr(field, found, limitText(issue)), give)];
      default:
        return [
          problem(path, say("plan.shape.wrong", { field, found: shown(found), why: issue.message }), give),
        ];
    }
  };
  return issues.flatMap((issue) => one(issue, []));
}

function missingOr(field: string, found: unknown, expected: string): string {
  if (found === undefined) return say("plan.shape.missing", { field, expected });
  return say("plan.shape.instead", { field, found: shown(found), expected });
}
