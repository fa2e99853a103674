import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { root } from "../../.ci/setup.mjs";
import { asProcess } from "../run/steps.mjs";

const folder = new URL("planted/", import.meta.url);

/** `file:line` → what is planted there. */
const planted = new Map(
  readdirSync(folder)
    .filter((file) => file.endsWith(".ts"))
    .flatMap((file) =>
      readFileSync(new URL(file, folder), "utf8")
        .split("\n")
        .flatMap((line, at) => {
          const name = /\/\/ planted: (\S+)$/.exec(line)?.[1];
          return name === undefined ? [] : [[`${file}:${at + 1}`, name] as [string, string]];
        }),
    ),
);

describe("the core's own type check", () => {
  const { file, args } = asProcess(["typescript/bin/tsc", "-p", "test/rules/planted", "--pretty", "false"]);
  const run = spawnSync(file, args, { cwd: root, encoding: "utf8" });
  const errors = new Map(
    run.stdout.split("\n").flatMap((text) => {
      const match = /planted\/([\w.-]+)\((\d+),\d+\): (error .*)$/.exec(text);
      return match === null ? [] : [[`${match[1]}:${match[2]}`, match[3] ?? ""] as [string, string]];
    }),
  );

  it("fails on planted names of the page and of Node", () => {
    expect(run.status).not.toBe(0);
    expect(planted.size).toBeGreaterThan(10);
  });

  it.each([...planted])("refuses what is planted at %s: %s", (place, name) => {
    expect(errors.get(place)).toContain(name.startsWith("globalThis") ? "typeof globalThis" : `'${name}'`);
  });

  it("refuses nothing else: the packages that the core may use bring no such names along", () => {
    expect([...errors.keys()].filter((place) => !planted.has(place))).toEqual([]);
  });
});
