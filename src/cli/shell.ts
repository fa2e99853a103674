/** The real shell: files, standard streams, the clock. */
import { readFileSync, writeFileSync } from "node:fs";
import { text } from "node:stream/consumers";
import type { Io } from "./io.ts";

/** Standard streams and the file system. A reader that closes its end of the pipe early (`| head`) ends the program quietly. */
export function shellIo(): Io {
  process.stdout.on("error", (error: NodeJS.ErrnoException) => {
    if (error.code === "EPIPE") process.exit(0);
    throw error;
  });
  const pack = JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8")) as {
    version: string;
  };
  const now = new Date();
  const two = (n: number): string => String(n).padStart(2, "0");
  return {
    version: pack.version,
    env: process.env,
    today: `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`,
    out: (line) => void process.stdout.write(line),
    err: (line) => void process.stderr.write(line),
    readFile: (path) => readFileSync(path, "utf8"),
    readBytes: (path) => readFileSync(path),
    readStdin: () => text(process.stdin),
    writeFile: (path, content) => writeFileSync(path, content),
  };
}
