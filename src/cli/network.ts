/** `linewright network`: solves a bare network of nodes and members. */

import { solveEquilibrium } from "../geometry/equilibrium.ts";
import { parseNetworkText } from "../geometry/network-file.ts";
import { networkResult } from "../geometry/network-result.ts";
import { decimalMark, say } from "../words/index.ts";
import type { Command } from "./command.ts";
import { readText, writeText } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS } from "./io.ts";
import { jsonText, networkCaution, problemsJson, problemsText } from "./messages.ts";

/** Two lines, one weight. */
const EXAMPLE = `'{"nodes":[[-2,0],[0,0],[2,0]],"members":[{"nodes":[0,1],"EA":3.5e6},{"nodes":[1,2],"EA":3.5e6}],
         "supports":[0,2],"loads":{"1":[0,-889]}}'`;

export const network: Command = {
  options: { json: { type: "boolean" }, out: { type: "string" } },
  operands: ["cli.operand.file"],
  help: () => say("cli.help.network", { open: "{", close: "}", example: EXAMPLE }),
  async run(given, io) {
    const [path = ""] = given.operands;
    const parsed = parseNetworkText(await readText(path, io));
    if (parsed.problems.length > 0) io.err(problemsText(parsed.problems));
    const out = given.text("out");
    const print = (result: object): void => {
      const text = jsonText({
        ...result,
        problems: problemsJson(parsed.problems),
        caution: networkCaution(),
      });
      if (out === undefined) io.out(text);
      else writeText(out, text, io);
    };
    if (!parsed.ok) {
      print({ format: "linewright-network-result", version: 1, converged: false });
      return EXIT_PROBLEMS;
    }
    const { network: bare, options } = parsed.value;
    const equilibrium = solveEquilibrium(bare, options);
    print(networkResult(parsed.value, equilibrium));
    if (equilibrium.converged) return EXIT_OK;
    io.err(
      `linewright: ${say("cli.network.none", {
        iterations: equilibrium.iterations,
        force: String(equilibrium.residualN).replace(".", decimalMark()),
      })}\n`,
    );
    return EXIT_PROBLEMS;
  },
};
