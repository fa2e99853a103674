/** The plan file's JSON Schema, made from the same zod schema that reads plans. */
import * as z from "zod";
import { planFileSchema } from "./schema.ts";

/** A JSON Schema as plain data. */
export type JsonSchema = { readonly [key: string]: unknown };

/**
 * JSON Schema (draft 2020-12) of any zod schema's input side, so that an editor can help who writes such a file.
 * Descriptions and titles of the fields are carried over.
 */
export function jsonSchemaOf(schema: z.ZodType): JsonSchema {
  return z.toJSONSchema(schema, { io: "input" }) as JsonSchema;
}

/** JSON Schema of the plan file, as published beside the program. */
export function planJsonSchema(): JsonSchema {
  return jsonSchemaOf(planFileSchema);
}
