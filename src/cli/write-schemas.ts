/** Writes the JSON Schemas of our file formats to `public/`, for editors: `npm run schemas`. */
import { writeFileSync } from "node:fs";
import { networkJsonSchema } from "../geometry/network-schema.ts";
import { draftJsonSchema } from "../plan/draft/index.ts";
import { planJsonSchema } from "../plan/index.ts";
import { checkJsonSchema } from "../readings/index.ts";
import { journalEntryJsonSchema } from "../readings/session/index.ts";
import { loopBookJsonSchema } from "../workshop/index.ts";

const SCHEMAS = [
  ["plan.schema.json", planJsonSchema()],
  ["check.schema.json", checkJsonSchema()],
  ["network.schema.json", networkJsonSchema()],
  ["linewright-loops.schema.json", loopBookJsonSchema()],
  ["draft.schema.json", draftJsonSchema()],
  ["journal.schema.json", journalEntryJsonSchema()],
] as const;

for (const [name, schema] of SCHEMAS) {
  const target = new URL(`../../public/${name}`, import.meta.url);
  writeFileSync(target, `${JSON.stringify(schema, null, 2)}\n`);
  console.log(`wrote public/${name}`);
}
