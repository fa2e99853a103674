/** What a draft can begin from: nothing, a usual pattern, the wing on the screen, or a file. */
import { draftOfPlan, draftText, type PlanDraft, parseDraft } from "../../plan/draft/index.ts";
import { DRAFT_FORMAT } from "../../plan/draft/source.ts";
import { parsePlan } from "../../plan/index.ts";
import type { Wing } from "../../plan/model.ts";

/** A wing's draft as text, with what the notation can't say of it. */
export function draftFromWing(wing: Wing): { readonly text: string; readonly lost: PlanDraft["lost"] } {
  const { source, lost } = draftOfPlan(wing);
  return { text: draftText(source), lost };
}

/**
 * The draft in a file: its text, one kept as JSON, or that of a plan file.
 * @returns undefined for JSON that is neither
 */
export function draftFromFile(
  given: string,
): { readonly text: string; readonly lost: PlanDraft["lost"] } | undefined {
  const text = given.replace(/^\uFEFF/u, "").replace(/\r\n?/gu, "\n");
  if (!text.trimStart().startsWith("{")) return { text, lost: [] };
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return undefined;
  }
  if ((value as { format?: unknown } | null)?.format === DRAFT_FORMAT)
    return { text: draftText(parseDraft(text).source), lost: [] };
  const plan = parsePlan(value);
  return plan.ok ? draftFromWing(plan.value) : undefined;
}

/** A file's name from a wing's: letters and figures, the rest as hyphens. */
export function fileNameOf(name: string | undefined, ending: string): string {
  const plain = (name ?? "")
    .normalize("NFKD")
    .replace(/\p{M}+/gu, "")
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-+|-+$/gu, "")
    .toLowerCase();
  return `${plain === "" ? "wing" : plain}.${ending}`;
}
