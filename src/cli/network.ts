/** `linewright network`: solves a bare network of nodes and members. */
import { solveEquilibrium } from "../geometry/equilibrium.ts";
import { parseNetworkText } from "../geometry/network-file.ts";
import { networkResult } from "../geometry/network-result.ts";
import type { Command } from "./command.ts";
import { readText, writeText } from "./inputs.ts";
import { EXIT_OK, EXIT_PROBLEMS } from "./io.ts";
import { jsonText, NETWORK_CAUTION, problemsJson, problemsText } from "./messages.ts";

export const network: Command = {
  options: { json: { type: "boolean" }, out: { type: "string" } },
  operands: ["<file.json>"],
  help: `linewright network <file.json> [--out FILE]

Finds the equilibrium of straight members pinned at nodes, under loads of fixed direction. A line carries
tension only: T = EA (L - L0)/L0 where it is longer than its unstretched length L0, else it is slack.
A bar carries both. Prints JSON. "-" reads the file from standard input.
Exit code 0 when solved, 1 when the file has errors or no equilibrium was reached.

  --json       JSON is the default; accepted for likeness with the other commands
  --out FILE   write the result there instead of to standard output

The file ("?" marks what may be left out):
  {
    "format?": "linewright-network", "version?": 1, "name?", "note?", "units?": a note of yours,
    "nodes": [
      [x, y, z]                                   its id is its place in the list, from 0
      {"id?", "position": [x, y, z], "fixed?", "load?": [fx, fy, fz], "note?"}
      {"id?", "x", "y", "z", ...}                 the same with named coordinates
    ],
    "members": [
      {"id?", "nodes": [a, b],                    or "from" and "to"
       "EA",                                      or "ea", or "E" and "A"
       "unstretched?",                            or "unstretchedLength" or "L0"; left out: the distance
                                                  between the positions given
       "pretension?",                             instead: the force at the positions given
       "kind?": "line" | "bar",                   "cable", "tension-only" = line; "strut", "truss" = bar
       "massPerLength?" | "weightPerLength?",     over the unstretched length, half to each end
       "note?"}
    ],
    "supports?": [id, {"node": id, "fixed": ["x", "z"]}],
    "loads?": [{"node": id, "force": [fx, fy, fz]}]      or {"<id>": [fx, fy, fz], ...}
    "gravity?": g                                 downwards (-z, in a plane -y), or [gx, gy, gz];
                                                  needed with massPerLength
    "options?": {"tolerance?": relative, "maxIterations?"}
  }
  "fixed" is true or "all", a list of directions ["x", "z"], or a flag for each [true, false, true].
  Any one consistent system of units passes through: m and N, or mm and N with EA in N, or ft and kip.
  Positions of two numbers make a plane network. Ids are texts or whole numbers; 1 and "1" are the same.
  Supports given in both places add up, and so do loads. A name that isn't known here is an error.

The result:
  converged, iterations, residual (largest out-of-balance force at a free node), energy;
  positions, displacements, reactions by node id; members with tension (positive), length, unstretched,
  strain, slack; slack: ids of slack lines; loose: nodes that nothing holds in some direction, so that
  their place is one of many; balance: loads and reactions summed, force and moment about the origin.

Example (two lines, one weight):
  echo '{"nodes":[[-2,0],[0,0],[2,0]],"members":[{"nodes":[0,1],"EA":3.5e6},{"nodes":[1,2],"EA":3.5e6}],
         "supports":[0,2],"loads":{"1":[0,-889]}}' | linewright network -
`,
  async run(given, io) {
    const [path = ""] = given.operands;
    const parsed = parseNetworkText(await readText(path, io));
    if (parsed.problems.length > 0) io.err(problemsText(parsed.problems));
    const out = given.text("out");
    const print = (result: object): void => {
      const text = jsonText({ ...result, problems: problemsJson(parsed.problems), caution: NETWORK_CAUTION });
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
      `linewright: no equilibrium reached in ${equilibrium.iterations} iterations; ` +
        `the largest force left at a free node is ${equilibrium.residualN}\n`,
    );
    return EXIT_PROBLEMS;
  },
};
