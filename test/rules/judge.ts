import { posix } from "node:path";
import { type Import, importsOf } from "./imports.ts";
import type { Layer } from "./layers.ts";

/** Source texts by their path under src: `plan/model.ts`. */
export type Sources = ReadonlyMap<string, string>;

export interface Judgement {
  /** Files that were parsed: a check that read none has shown nothing. */
  readonly files: number;
  readonly imports: number;
  /** One sentence for each offence. */
  readonly offences: readonly string[];
}

const codeEnding = /\.(?:ts|tsx|mts|mjs|js|jsx)$/;

/** Whether the import rule reads a file; stylesheets and pages have no imports that it knows. */
export const isCode = (path: string): boolean => codeEnding.test(path);

/**
 * Holds a tree of sources against the table of layers: every import must be listed, every relative one must name a
 * file that is there, and no chain of files may come back to its start.
 *
 * @param others paths under src that exist but aren't code, such as stylesheets
 */
export function judge(
  sources: Sources,
  layers: readonly Layer[],
  others: ReadonlySet<string> = new Set(),
): Judgement {
  const offences: string[] = [];
  const graph = new Map<string, readonly string[]>();
  let imports = 0;
  for (const [file, text] of sources) {
    const layer = layers.find((each) => each.folder === folderOf(file));
    if (layer === undefined) {
      offences.push(`${file}: the folder "${folderOf(file)}" is not in the table of layers`);
      continue;
    }
    const targets: string[] = [];
    for (const each of importsOf(file, text)) {
      imports++;
      const offence = offenceOf(file, each, layer, (path) => sources.has(path) || others.has(path));
      if (offence !== undefined)
        offences.push(`${file}:${each.line}: ${each.kind} of "${each.specifier}" ${offence}`);
      const target = relativeTarget(file, each.specifier);
      if (target !== undefined && sources.has(target)) targets.push(target);
    }
    graph.set(file, targets);
  }
  for (const cycle of cyclesOf(graph)) offences.push(`cycle: ${cycle.join(" → ")}`);
  return { files: sources.size, imports, offences };
}

/** Folder directly under src, "" for a file in src itself. */
function folderOf(path: string): string {
  const slash = path.indexOf("/");
  return slash === -1 ? "" : path.slice(0, slash);
}

/** Path under src of a relative import; starts with `..` where it leaves src. Undefined for a package. */
function relativeTarget(file: string, specifier: string): string | undefined {
  if (/^\.{1,2}(\/|$)/.test(specifier)) return posix.join(posix.dirname(file), specifier);
  // Vite takes a leading slash as the root, which is src.
  return specifier.startsWith("/") ? posix.normalize(specifier.slice(1)) : undefined;
}

const computed = "is computed, so that it can't be checked; name the file";

function offenceOf(
  file: string,
  { kind, specifier }: Import,
  layer: Layer,
  exists: (path: string) => boolean,
): string | undefined {
  if (kind === "unreadable") return computed;
  // A URL beside the file may be written without "./".
  const named = kind === "url" && !/^([./]|[a-z]+:)/.test(specifier) ? `./${specifier}` : specifier;
  const target = relativeTarget(file, named);
  if (target === undefined) {
    const listed = layer.packages.some((each) =>
      each.endsWith(":*")
        ? named.startsWith(each.slice(0, -1))
        : named === each || named.startsWith(`${each}/`),
    );
    return listed ? undefined : `is not among the packages of ${layer.folder || "src"}`;
  }
  if (target.endsWith("*") && !layer.outside.includes(target)) return computed;
  if (target.startsWith("..")) return layer.outside.includes(target) ? undefined : "leaves src";
  const folder = folderOf(target);
  if (folder !== layer.folder && !layer.from.includes(folder))
    return `is not allowed: ${layer.folder || "src"} may not import from ${folder || "src itself"}`;
  if (!exists(target)) return "names no file; relative imports carry the file's ending";
  if (!isCode(target) && !layer.assets.some((ending) => target.endsWith(ending)))
    return `is no kind of file that ${layer.folder || "src"} may import`;
  return undefined;
}

/**
 * One closed chain for each group of files that import one another in a circle, by Tarjan's strongly connected
 * components; a file that imports itself counts.
 */
export function cyclesOf(graph: ReadonlyMap<string, readonly string[]>): readonly (readonly string[])[] {
  const order = new Map<string, number>();
  const lowest = new Map<string, number>();
  const stack: string[] = [];
  const cycles: string[][] = [];

  const visit = (file: string): void => {
    order.set(file, order.size);
    lowest.set(file, order.size - 1);
    stack.push(file);
    for (const target of graph.get(file) ?? []) {
      if (!order.has(target)) visit(target);
      if (stack.includes(target)) lowest.set(file, Math.min(lowest.get(file)!, lowest.get(target)!));
    }
    if (lowest.get(file) !== order.get(file)) return;
    const group = new Set(stack.splice(stack.indexOf(file)));
    if (group.size > 1 || graph.get(file)?.includes(file)) cycles.push(chainWithin(file, group, graph));
  };
  for (const file of graph.keys()) if (!order.has(file)) visit(file);
  return cycles;
}

/** Shortest way from a file back to itself without leaving its group. */
function chainWithin(
  start: string,
  group: ReadonlySet<string>,
  graph: ReadonlyMap<string, readonly string[]>,
): string[] {
  const before = new Map<string, string>();
  const queue = [start];
  for (const file of queue) {
    for (const target of graph.get(file) ?? []) {
      if (!group.has(target)) continue;
      if (target === start) {
        const chain = [start];
        for (let at = file; at !== start; at = before.get(at)!) chain.unshift(at);
        return [start, ...chain];
      }
      if (before.has(target)) continue;
      before.set(target, file);
      queue.push(target);
    }
  }
  throw new Error(`${start} lies on no cycle`);
}
