/** `linewright build`: a plan file from a draft typed in from a printed line plan. */

import {
  draftText,
  draftWithLengths,
  parseDraft,
  planOfDraft,
  readLengthTable,
} from "../plan/draft/index.ts";
import { say } from "../words/index.ts";
import { buildHelp } from "./build-help.ts";
import { type Command, oneStdin } from "./command.ts";
import { readText, writeText } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS } from "./io.ts";
import { jsonText, problemsText, wingCaution } from "./messages.ts";
import { paragraph } from "./table.ts";

export const build: Command = {
  options: {
    lengths: { type: "string" },
    name: { type: "string" },
    out: { type: "string" },
    text: { type: "boolean" },
  },
  operands: ["cli.operand.draft"],
  help: buildHelp,
  async run(given, io) {
    const [path = ""] = given.operands;
    const tablePath = given.text("lengths");
    oneStdin(path, tablePath);
    const read = parseDraft(await readText(path, io));
    const full =
      tablePath === undefined ? read : draftWithLengths(read, readLengthTable(await readText(tablePath, io)));
    const name = given.text("name");
    const draft =
      name === undefined
        ? full
        : { ...full, source: { ...full.source, wing: { ...full.source.wing, name } } };
    const { plan, problems, assumed } = planOfDraft(draft);

    const told = problemsText(problems);
    if (told !== "") io.err(told);
    if (assumed.length > 0)
      io.err(
        `${told === "" ? "" : "\n"}${say("cli.build.assumed", { count: assumed.length })}\n${assumed.map((each) => paragraph(each, "  ")).join("")}`,
      );
    const usable = plan !== undefined;
    if (!usable) io.err(`\n${say("cli.build.none")}\n`);
    const result = given.flag("text")
      ? draftText(draft.source)
      : plan === undefined
        ? undefined
        : jsonText(plan);
    const out = given.text("out");
    if (result !== undefined && (usable || given.flag("text"))) {
      if (out === undefined) io.out(result);
      else writeText(out, result, io);
    }
    if (usable) io.err(`\n${paragraph(`${say("cli.build.compare")} ${wingCaution()}`)}`);
    return usable ? EXIT_OK : EXIT_PROBLEMS;
  },
};
