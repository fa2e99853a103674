import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import * as z from "zod";
import { planJsonSchema } from "../../src/plan/index.ts";
import { line } from "./broken.ts";
import { sampleBothSides, samplePlan } from "./factory.ts";

describe("the published JSON Schema of the plan file", () => {
  test("is the one that the program makes (else run `npx tsx src/cli/write-schemas.ts`)", () => {
    const published = readFileSync(new URL("../../public/plan.schema.json", import.meta.url), "utf8");
    expect(published).toBe(`${JSON.stringify(planJsonSchema(), null, 2)}\n`);
  });

  test("takes the plans that the program takes, and refuses an unknown key", () => {
    const schema = z.fromJSONSchema(planJsonSchema() as Parameters<typeof z.fromJSONSchema>[0]);
    expect(schema.safeParse(samplePlan()).success).toBe(true);
    expect(schema.safeParse(sampleBothSides()).success).toBe(true);
    const plan = samplePlan();
    Object.assign(line(plan.sides.mirrored, "A1"), { lenghtMm: 1 });
    expect(schema.safeParse(plan).success).toBe(false);
  });

  test("explains every field", () => {
    const bare: string[] = [];
    const walk = (node: unknown, path: string): void => {
      if (typeof node !== "object" || node === null) return;
      const { properties } = node as { properties?: Record<string, unknown> };
      for (const [name, field] of Object.entries(properties ?? {})) {
        const { description, $ref } = field as { description?: string; $ref?: string };
        if (description === undefined && $ref === undefined) bare.push(`${path}.${name}`);
      }
      for (const [name, child] of Object.entries(node)) walk(child, `${path}.${name}`);
    };
    walk(planJsonSchema(), "plan");
    expect(bare).toEqual([]);
  });
});
