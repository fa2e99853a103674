/** A draft written as text, so that it can be read back, corrected and typed on. */
import { PULLEY } from "../schema.ts";
import { writeNumberList } from "./number-list.ts";
import { CANOPY_KEYS, type DraftSource, LIMIT_KEYS, LINE_KINDS, ROW_PREFIXES } from "./source.ts";
import { quoted } from "./words.ts";

/** Per cent of a fraction: the shortest decimal that is read back to the same fraction. */
function percent(fraction: number): number {
  const exact = fraction * 100;
  const short = Number(exact.toPrecision(12));
  return short / 100 === fraction ? short : exact;
}

/** Statements in the order in which a plan is read; `parseDraft` of the text gives the same lines and tabs. */
export function draftText(source: DraftSource): string {
  const out: string[] = [];
  const put = (head: string, body: string | number | undefined): void => {
    if (body !== undefined && body !== "") out.push(`${head}: ${body}`);
  };
  const { wing, reference, canopy, brakes, tolerances } = source;
  put("name", wing?.name);
  put("size", wing?.size);
  put("kind", wing?.kind);
  if (wing?.allUpWeightKg !== undefined) put("weight", `${wing.allUpWeightKg.min}-${wing.allUpWeightKg.max}`);
  put("note", wing?.note);
  put("from", reference?.from);
  put("tension", reference?.tensionN);
  put("trimmer", reference?.trimmerMm);
  put("reference", reference?.note);
  put(
    "risers",
    (source.risers ?? [])
      .map(({ id, lengthMm }) => (lengthMm === undefined ? quoted(id) : `${quoted(id)} ${lengthMm}`))
      .join(", "),
  );
  put(
    "maillons",
    (source.maillons ?? [])
      .map(
        ({ id, riser, barDiameterMm }) =>
          `${quoted(id)} on ${quoted(riser)}${barDiameterMm === undefined ? "" : ` bar ${barDiameterMm}`}`,
      )
      .join(", "),
  );
  if (brakes?.pulleyRiser !== undefined)
    put(
      "pulley",
      `${quoted(brakes.pulleyRiser)}${brakes.pulleyHeightMm === undefined ? "" : ` ${brakes.pulleyHeightMm}`}`,
    );
  put("free travel", brakes?.freeTravelMm);
  put("pattern", source.pattern);
  for (const { row, on, cascade } of source.rows)
    out.push(
      `${ROW_PREFIXES[row]}${on === undefined || on === PULLEY ? "" : ` on ${quoted(on)}`}: ${cascade}`,
    );
  const shared = new Map<string, string[]>();
  for (const { row, list } of source.ribs ?? [])
    shared.set(list, [...(shared.get(list) ?? []), ROW_PREFIXES[row]]);
  for (const [list, rows] of shared) put(`ribs ${rows.join(" ")}`, list);
  for (const [row, fraction] of Object.entries(canopy?.rowChordFractions ?? {}))
    if (fraction !== undefined) put(`chord ${row}`, percent(fraction));
  for (const { row, tabs } of source.chords ?? []) {
    const list = writeNumberList(tabs.map((each) => (each === null ? undefined : percent(each))));
    // A single number would stand for the row.
    put(`chord ${ROW_PREFIXES[row]}`, tabs.length === 1 ? `1x${list}` : list);
  }
  for (const [of, all] of listsByRow(source.totals ?? [])) put(`totals ${of}`, all);
  for (const kind of LINE_KINDS)
    for (const [of, all] of listsByRow((source.lengths ?? []).filter((each) => each.kind === kind)))
      put(`${kind} ${of}`, all);
  const to = (targets: readonly string[]): string => (targets.includes("all") ? "" : ` ${targets.join(" ")}`);
  for (const material of source.materials ?? [])
    put(
      `material ${quoted(material.id)}`,
      [
        `${material.diameterMm} mm`,
        ...(material.fibre === undefined ? [] : [`fibre ${quoted(material.fibre)}`]),
        ...(material.stiffnessEaN === undefined ? [] : [`EA ${material.stiffnessEaN}`]),
        ...(material.modulusGPa === undefined ? [] : [`modulus ${material.modulusGPa}`]),
        ...(material.massGPerM === undefined ? [] : [`mass ${material.massGPerM}`]),
        ...(material.breakingForceN === undefined ? [] : [`breaks ${material.breakingForceN}`]),
      ].join(", "),
    );
  for (const { targets, mm } of source.diameters ?? []) put(`diameters${to(targets)}`, mm.join(" "));
  for (const { targets, materials } of source.use ?? [])
    put(`use${to(targets)}`, materials.map(quoted).join(" / "));
  for (const { targets, loop } of source.loops ?? [])
    put(`loop${to(targets)}`, loop === null ? "none" : `${loop.takeUpMm} ${loop.name}`);
  for (const { targets, colour } of source.colours ?? [])
    put(`colour${to(targets)}`, colour === null ? "none" : colour === "none" ? '"none"' : quoted(colour));
  put("canopy", keyed(canopy, CANOPY_KEYS));
  put("limits", keyed(tolerances, LIMIT_KEYS));
  put("limits from", tolerances?.source);
  for (const { id, kind, name, strapChangesMm } of source.settings ?? [])
    put(
      `setting ${kind} ${/[\s:,/"]/u.test(id) ? JSON.stringify(id) : id} ${quoted(name)}`,
      Object.entries(strapChangesMm)
        .map(([riser, change]) => `${quoted(riser)} ${change}`)
        .join(", "),
    );
  for (const { of, draft, plan } of source.names ?? []) put(`${of} ${draft}`, plan);
  return `${out.join("\n")}\n`;
}

function keyed(fields: object | undefined, keys: Readonly<Record<string, string>>): string {
  const values = (fields ?? {}) as Readonly<Record<string, unknown>>;
  return Object.entries(keys)
    .filter(([, field]) => values[field] !== undefined)
    .map(([key, field]) => `${key} ${values[field]}`)
    .join(", ");
}

function listsByRow(
  all: readonly { readonly row: keyof typeof ROW_PREFIXES; readonly number: number; readonly mm: number }[],
): readonly (readonly [string, string])[] {
  const rows = [...new Set(all.map((each) => each.row))];
  return rows.map((row) => {
    const values: (number | undefined)[] = [];
    for (const { number, mm } of all.filter((each) => each.row === row)) values[number - 1] = mm;
    return [ROW_PREFIXES[row], writeNumberList(Array.from(values))] as const;
  });
}
