/** All exports of a wing and its check as files, and as one ZIP. */
import { strToU8, zipSync } from "fflate";
import { cautionFull, cautionShort } from "../diagnosis/caution.ts";
import type { Equilibrium } from "../geometry/model.ts";
import { planFile } from "../plan/index.ts";
import { writeCheckJson } from "../readings/index.ts";
import { longDate, say } from "../words/index.ts";
import { aboutOf } from "./export-about.ts";
import { csvOf } from "./export-csv.ts";
import { deviationsByLine, type ExportedState, type GltfOptions, gltfOf } from "./export-gltf.ts";
import { safeName, unlike } from "./export-names.ts";
import { incidenceChart } from "./export-svg-incidence.ts";
import { deviationChart, pairsChart } from "./export-svg-rows.ts";
import { exportTables, type TableSources } from "./export-tables.ts";
import { xlsxOf } from "./export-xlsx.ts";

export interface ExportFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface ExportSources extends TableSources {
  readonly scale: GltfOptions["scale"];
  /** A state drawn in 3D besides the one specified and the one measured. */
  readonly shown?: { readonly state: ExportedState; readonly solved: Equilibrium } | undefined;
  /** Pictures of the view, made where there is one. */
  readonly pictures?: readonly ExportFile[];
}

/** Days that a ZIP can hold (PKWARE, APPNOTE 4.4.6, from memory). */
const ZIP_YEARS = { first: 1980, last: 2099 };

/** Begins the names of a wing's files: `tidewrack-28-2026-03-14`. */
export function exportStem({ analysis: { wing, check } }: Pick<TableSources, "analysis">): string {
  return [
    safeName(wing.name),
    ...(check === undefined ? [] : [safeName(check.date.slice(0, 10), "check")]),
  ].join("-");
}

/**
 * Every file that there is something for: a text about them all, tables each as CSV and all in one workbook, the wing in 3D
 * as specified and as measured, charts, the plan and the check, and the pictures handed over. Figures and headings are the
 * same in every language; charts, notes and cautions are in the one set.
 */
export async function exportFiles(sources: ExportSources): Promise<readonly ExportFile[]> {
  const { analysis, scale, bands, shown, pictures = [] } = sources;
  const { wing, check, model, measured } = analysis;
  const stem = exportStem(sources);
  const about = aboutOf(analysis);
  const tables = exportTables(sources);
  const text = (name: string, content: string): ExportFile => ({
    name: `${stem}-${name}`,
    bytes: strToU8(content),
  });
  const inSpace = (state: ExportedState, solved: Equilibrium, coloured: boolean): ExportFile => ({
    name: `${stem}-${state}.glb`,
    bytes: gltfOf(analysis, solved, {
      state,
      scale,
      ...(coloured ? { colourM: deviationsByLine(analysis) } : {}),
    }),
  });
  const files = [
    { name: `${stem}-tables.xlsx`, bytes: await xlsxOf(tables, about) },
    // Some spreadsheets know UTF-8 by the mark only, and names have accents.
    ...tables.map((table) => text(`${safeName(table.name)}.csv`, csvOf(table, { about, bom: true }))),
    ...(measured === undefined
      ? []
      : [
          text("deviation.svg", deviationChart(analysis, { scale })),
          text("pairs.svg", pairsChart(analysis)),
          text("incidence.svg", incidenceChart(analysis, { bands })),
        ]),
    inSpace("specified", model.specified, false),
    ...(measured === undefined ? [] : [inSpace("measured", measured, true)]),
    ...(shown === undefined || shown.state === "specified" || shown.state === "measured"
      ? []
      : [inSpace(shown.state, shown.solved, true)]),
    text("plan.json", `${JSON.stringify(planFile(wing), null, 2)}\n`),
    ...(check === undefined ? [] : [text("check.json", writeCheckJson(check))]),
    ...pictures.map(({ name, bytes }) => ({ name: `${stem}-${pictureName(name)}`, bytes })),
  ];
  const named = unlike(files.map(({ name }) => name)).map((name, i) => ({
    name,
    bytes: (files[i] as ExportFile).bytes,
  }));
  return [text("about.txt", aboutText(sources, named)), ...named];
}

/**
 * The files as one ZIP.
 *
 * @param day ISO date that the files in it are dated by
 * @throws RangeError for a day that a ZIP can't hold, or two files of one name
 */
export function zipOf(files: readonly ExportFile[], day: string): Uint8Array {
  const year = Number(day.slice(0, 4));
  const mtime = new Date(`${day.slice(0, 10)}T12:00:00`);
  if (!(year >= ZIP_YEARS.first && year <= ZIP_YEARS.last) || Number.isNaN(mtime.getTime()))
    throw new RangeError(`Got "${day}", expected a day from ${ZIP_YEARS.first} to ${ZIP_YEARS.last}.`);
  const entries = Object.fromEntries(files.map(({ name, bytes }) => [name, bytes]));
  if (Object.keys(entries).length !== files.length) throw new RangeError("Got two files of one name.");
  return zipSync(entries, { mtime });
}

/** A file's own name without folders, safe, its ending kept. */
function pictureName(name: string): string {
  return safeName(name.split(/[\\/]/u).at(-1) ?? "", "view.png");
}

/** To be read first: what the files are, how their figures are counted, and what they aren't. */
function aboutText({ analysis }: ExportSources, files: readonly ExportFile[]): string {
  const { wing, check } = analysis;
  const { notes } = aboutOf(analysis);
  const title = say("export.archive.title", {
    wing: wing.name.replace(/\s+/gu, " "),
    dated: check === undefined ? "no" : "yes",
    date: check === undefined ? "" : longDate(check.date),
  });
  return `${[
    title,
    "",
    cautionShort(),
    "",
    ...files.map(
      ({ name }) => `${name}: ${say("export.archive.kind", { kind: name.split(".").at(-1) ?? "" })}`,
    ),
    "",
    ...notes,
    "",
    ...cautionFull(),
  ].join("\r\n")}\r\n`;
}
