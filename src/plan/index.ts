/** The plan's public face: what the rest of the program and its tests use of this folder. */

export { DEFAULT_TOLERANCES, keyOf } from "./build.ts";
export { type JsonSchema, jsonSchemaOf, planJsonSchema } from "./json-schema.ts";
export { type JsonText, lineAndColumn, parseJsonText } from "./json-text.ts";
export { usualMassKgM, usualStiffnessN } from "./material.ts";
export * from "./model.ts";
export { parsedText, parsePlan, parsePlanText, withLine } from "./parse.ts";
export { buildPaths, chainTo, linesByKey, pathLengthM, strapLengthM } from "./paths.ts";
export { formatPath, problemsFromIssues } from "./problems.ts";
export {
  PLAN_FORMAT,
  PLAN_VERSIONS,
  type PlanFile,
  type PlanHalf,
  type PlanLine,
  type PlanMaterial,
  type PlanTab,
  planFileSchema,
  type SparsePlanFile,
  type SparsePlanHalf,
  type SparsePlanLine,
} from "./schema.ts";
export { validatePlan } from "./validate.ts";
export { planFile } from "./write.ts";
