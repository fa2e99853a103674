import react from "@vitejs/plugin-react";
import { defineConfig } from "vitest/config";

const here = import.meta.dirname;

export default defineConfig({
  root: `${here}/src`,
  publicDir: `${here}/public`,
  // Relative addresses: the built app runs from any folder of any server.
  base: "./",
  plugins: [react()],
  worker: { format: "es" },
  build: {
    outDir: `${here}/dist`,
    emptyOutDir: true,
    chunkSizeWarningLimit: 1500,
  },
  test: {
    root: here,
    environment: "node",
    // No test passes or fails by a time: this only ends what hangs, on a busy machine too.
    testTimeout: 120_000,
    hookTimeout: 120_000,
    include: ["test/**/*.test.ts"],
    exclude: ["test/browser/**", "test/rules/planted/**"],
  },
});
