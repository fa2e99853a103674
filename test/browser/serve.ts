import { existsSync } from "node:fs";
import { preview } from "vite";
import type { TestProject } from "vitest/node";

const root = `${import.meta.dirname}/../..`;

/** Serves the production build on a free port of this machine for as long as the browser tests run. */
export default async function serve(project: TestProject): Promise<() => Promise<void>> {
  if (!existsSync(`${root}/dist/index.html`))
    throw new Error("There is no production build to test: run `npm run build` before.");
  const server = await preview({
    configFile: `${root}/vite.config.ts`,
    logLevel: "error",
    preview: { host: "127.0.0.1", port: 0, open: false },
  });
  const address = server.httpServer.address();
  if (address === null || typeof address === "string") throw new Error("The preview server has no port.");
  project.provide("origin", `http://127.0.0.1:${address.port}`);
  return () => server.close();
}

declare module "vitest" {
  export interface ProvidedContext {
    /** Where the app is served, without a slash at the end. */
    readonly origin: string;
  }
}
