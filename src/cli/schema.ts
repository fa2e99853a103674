/** `linewright schema`: the JSON Schema of a file format. */

import { networkJsonSchema } from "../geometry/network-schema.ts";
import { draftJsonSchema } from "../plan/draft/index.ts";
import { planJsonSchema } from "../plan/index.ts";
import { checkJsonSchema } from "../readings/index.ts";
import { journalEntryJsonSchema } from "../readings/session/index.ts";
import { say } from "../words/index.ts";
import { loopBookJsonSchema } from "../workshop/index.ts";
import type { Command } from "./command.ts";
import { EXIT_OK, UsageError } from "./io.ts";
import { jsonText } from "./messages.ts";

const SCHEMAS: Readonly<Record<string, () => object>> = {
  plan: planJsonSchema,
  check: checkJsonSchema,
  network: networkJsonSchema,
  loops: loopBookJsonSchema,
  draft: draftJsonSchema,
  journal: journalEntryJsonSchema,
};

export const schema: Command = {
  options: {},
  operands: ["cli.operand.schema"],
  help: () => say("cli.help.schema"),
  async run(given, io) {
    const name = given.operands[0] ?? "";
    const make = SCHEMAS[name];
    if (make === undefined)
      throw new UsageError(say("cli.schema.none", { name, names: Object.keys(SCHEMAS).join(", ") }));
    io.out(jsonText(make()));
    return EXIT_OK;
  },
};
