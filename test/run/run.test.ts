import { chmodSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { nodeProblem, packagesProblem, root } from "../../.ci/setup.mjs";
import { findChromium } from "./chromium.mjs";
import { chooseSteps, steps } from "./steps.mjs";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "linewright-run-"));
});
afterEach(() => rmSync(folder, { recursive: true }));

describe("Node's version", () => {
  it.each(["20.19.0", "20.20.2", "22.0.0", "24.1.0"])("%s will do", (version) => {
    expect(nodeProblem(version)).toBeUndefined();
  });

  it.each(["20.18.3", "18.20.8", "16.0.0"])(
    "%s is too old, and the message names it and what is needed",
    (version) => {
      expect(nodeProblem(version)).toContain(`needs Node 20.19 or newer; this is Node ${version}`);
    },
  );
});

describe("the installed packages", () => {
  const entries = {
    "": {},
    "node_modules/a": { version: "1.0.0" },
    "node_modules/b": { version: "2.0.0", optional: true },
  };
  const install = (installed: object) => {
    mkdirSync(join(folder, "node_modules", "a"), { recursive: true });
    writeFileSync(join(folder, "package-lock.json"), JSON.stringify({ packages: entries }));
    writeFileSync(
      join(folder, "node_modules", ".package-lock.json"),
      JSON.stringify({ packages: installed }),
    );
  };

  it("are asked for where there are none", () => {
    expect(packagesProblem(folder)).toContain("no packages are installed");
  });

  it("fit where they are those of the lockfile, builds for other systems aside", () => {
    install({ "node_modules/a": { version: "1.0.0" } });
    expect(packagesProblem(folder)).toBeUndefined();
  });

  it("are asked for again where the lockfile has another version", () => {
    install({ "node_modules/a": { version: "0.9.0" } });
    expect(packagesProblem(folder)).toBe("node_modules/a is 0.9.0, the lockfile says 1.0.0");
  });

  it("are asked for again where one is missing", () => {
    install({});
    expect(packagesProblem(folder)).toBe("node_modules/a is missing");
    install({ "node_modules/a": { version: "1.0.0" } });
    rmSync(join(folder, "node_modules", "a"), { recursive: true });
    expect(packagesProblem(folder)).toBe("node_modules/a is listed but not there");
  });

  it("fit the lockfile here", () => {
    expect(packagesProblem(root)).toBeUndefined();
  });
});

describe("the browser", () => {
  const program = (name: string) => {
    const path = join(folder, name);
    writeFileSync(path, "");
    chmodSync(path, 0o755);
    return path;
  };

  it("is the one that CHROMIUM_PATH names, before any other", () => {
    program("chromium");
    expect(findChromium({ PATH: folder, CHROMIUM_PATH: program("other") })).toBe(join(folder, "other"));
  });

  it("is found on PATH", () => {
    program("chromium-browser");
    expect(findChromium({ PATH: `/nowhere:${folder}` })).toBe(join(folder, "chromium-browser"));
  });

  it("is not silently another where CHROMIUM_PATH is wrong", () => {
    expect(() => findChromium({ PATH: folder, CHROMIUM_PATH: join(folder, "absent") })).toThrow(
      "CHROMIUM_PATH is",
    );
  });
});

describe("the choice of steps", () => {
  const names = (args: string[]) => {
    const choice = chooseSteps(args);
    return "problem" in choice ? choice.problem : choice.steps.map((step) => step.name);
  };

  it("is all of them, in order, without arguments", () => {
    expect(names([])).toEqual(steps.map((step) => step.name));
    expect(names([])).toEqual(["typecheck", "core", "lint", "rules", "unit", "build", "browser"]);
  });

  it("keeps the order, whatever the order asked for", () => {
    expect(names(["--only", "unit,lint"])).toEqual(["lint", "unit"]);
    expect(names(["--only=unit", "--only=lint"])).toEqual(["lint", "unit"]);
  });

  it("adds the build to the browser tests, so that they never run on an old one", () => {
    expect(names(["--only", "browser"])).toEqual(["build", "browser"]);
  });

  it("is refused where a name is wrong or missing", () => {
    expect(names(["--only", "units"])).toContain('no step "units"');
    expect(names(["--only"])).toContain("needs at least one");
    expect(names(["unit"])).toContain('Unknown argument "unit"');
  });
});
