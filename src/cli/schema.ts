/** `linewright schema`: the JSON Schema of a file format. */
import { networkJsonSchema } from "../geometry/network-schema.ts";
import { planJsonSchema } from "../plan/index.ts";
import { checkJsonSchema } from "../readings/index.ts";
import { loopBookJsonSchema } from "../workshop/index.ts";
import type { Command } from "./command.ts";
import { EXIT_OK, UsageError } from "./io.ts";
import { jsonText } from "./messages.ts";

const SCHEMAS: Readonly<Record<string, () => object>> = {
  plan: planJsonSchema,
  check: checkJsonSchema,
  network: networkJsonSchema,
  loops: loopBookJsonSchema,
};

export const schema: Command = {
  options: {},
  operands: ["plan, check, network or loops"],
  help: `linewright schema plan|check|network|loops

Prints the JSON Schema (draft 2020-12) of a file format, for editors and other programs. It tells the form;
references between lines, tabs and nodes are checked when a file is read.

Example:
  linewright schema plan > linewright-plan.schema.json
`,
  async run(given, io) {
    const name = given.operands[0] ?? "";
    const make = SCHEMAS[name];
    if (make === undefined)
      throw new UsageError(`no schema "${name}"; there are ${Object.keys(SCHEMAS).join(", ")}`);
    io.out(jsonText(make()));
    return EXIT_OK;
  },
};
