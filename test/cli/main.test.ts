import { describe, expect, it } from "vitest";
import { run } from "./io.ts";

const COMMANDS = [
  "validate",
  "compare",
  "diagnose",
  "loops",
  "recheck",
  "order",
  "columns",
  "build",
  "diff",
  "shape",
  "network",
  "schema",
];

describe("the command line", () => {
  it("lists its commands, on request as a result and without a command as a message", async () => {
    for (const argv of [["--help"], ["-h"], ["help"]]) {
      const { code, out, err } = await run(argv);
      expect([code, err]).toEqual([0, ""]);
      for (const name of COMMANDS) expect(out).toContain(name);
      expect(out).toMatch(/not a clearance to fly/);
    }
    const bare = await run([]);
    expect([bare.code, bare.out]).toEqual([2, ""]);
    expect(bare.err).toContain("Commands:");
  });

  it("tells its version", async () => {
    expect(await run(["--version"])).toMatchObject({ code: 0, out: "1.2.3\n", err: "" });
  });

  it.each(COMMANDS)("explains %s with an example, however it is asked", async (name) => {
    const asked = await run([name, "--help"]);
    expect([asked.code, asked.err]).toEqual([0, ""]);
    expect(asked.out).toMatch(new RegExp(`^linewright ${name} `));
    expect(asked.out).toContain("Example");
    expect((await run(["help", name])).out).toBe(asked.out);
    expect((await run([name, "-h"])).out).toBe(asked.out);
  });

  it.each([
    [["frobnicate"], /unknown command "frobnicate"; there are validate/],
    [["--frobnicate"], /unknown option "--frobnicate"/],
    [["help", "frobnicate"], /unknown command/],
    [["validate"], /<plan.json> is missing/],
    [["validate", "a.json", "b.json"], /unexpected argument "b.json"/],
    [["validate", "a.json", "--frobnicate"], /unknown option '--frobnicate'/],
    [["validate", "nowhere.json"], /can’t read nowhere.json: there is no such file/],
    [["compare", "plan.json"], /<readings.json or .csv> is missing/],
    [["compare", "-", "-"], /only one file can be "-"/],
    [["network", "nowhere.json"], /can’t read nowhere.json/],
    [["schema", "wing"], /no schema "wing"; there are plan, check, network/],
    [["shape", "plan.json", "--weight"], /'--weight <value>' argument missing/],
    [
      ["shape", "plan.json", "--state", "broken"],
      /--state: "broken" is none of specified, measured, changed/,
    ],
    [["shape", "plan.json", "--state", "measured"], /needs --readings/],
    [["shape", "plan.json", "--state", "changed"], /needs at least one --change/],
    [["shape", "plan.json", "--state", "specified", "--change", "A1=3"], /--change has no effect/],
    [["shape", "plan.json", "--json", "--table"], /exclude each other/],
  ])("calls %j wrong usage, in one sentence", async (argv, message) => {
    const { code, out, err } = await run(argv);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(message);
    expect(err).not.toMatch(/\n {4}at /);
  });

  it("says which file it couldn't write", async () => {
    const network =
      '{"nodes": [[0, 0], [1, 0]], "members": [{"nodes": [0, 1], "EA": 1}], "supports": [0, 1]}';
    const { code, err } = await run(["network", "-", "--out", "/forbidden/result.json"], {}, network);
    expect(code).toBe(2);
    expect(err).toMatch(/can’t write \/forbidden\/result.json: access is denied/);
  });

  it.each(["plan", "check", "network", "loops"])("prints the JSON Schema of a %s file", async (name) => {
    const { code, out } = await run(["schema", name]);
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ $schema: expect.stringContaining("2020-12"), type: "object" });
  });
});
