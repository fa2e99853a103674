/** A command line without a shell: files in memory, what was printed kept. */
import { main } from "../../src/cli/main.ts";

export interface Run {
  readonly code: number;
  readonly out: string;
  readonly err: string;
  /** Files written. */
  readonly written: ReadonlyMap<string, string>;
}

/**
 * Runs one command line on files given by name, as text or as bytes; `stdin` is what "-" reads, `env` what the
 * environment has set: nothing, so that it speaks English wherever the test runs.
 */
export async function run(
  argv: readonly string[],
  files: Readonly<Record<string, string | Uint8Array>> = {},
  stdin = "",
  env: Readonly<Record<string, string>> = {},
): Promise<Run> {
  let out = "";
  let err = "";
  const written = new Map<string, string>();
  const code = await main(argv, {
    version: "1.2.3",
    env,
    today: "2026-05-01",
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    readFile: (path) => {
      const found = files[path];
      if (found === undefined) throw Object.assign(new Error("no such file"), { code: "ENOENT" });
      return typeof found === "string" ? found : new TextDecoder().decode(found);
    },
    readBytes: (path) => {
      const found = files[path];
      if (found === undefined) throw Object.assign(new Error("no such file"), { code: "ENOENT" });
      return typeof found === "string" ? new TextEncoder().encode(found) : found;
    },
    readStdin: async () => stdin,
    writeFile: (path, text) => {
      if (path.startsWith("/forbidden/"))
        throw Object.assign(new Error("access is denied"), { code: "EACCES" });
      written.set(path, text);
    },
  });
  return { code, out, err, written };
}
