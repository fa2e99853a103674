/** Names of files that every system takes: no sign that one of them reserves, none longer than they bear, no two alike. */

/** What Windows keeps for devices, whatever stands behind the first dot (Microsoft, "Naming files", from memory). */
const DEVICE = /^(?:con|prn|aux|nul|com\d|lpt\d)(?=\.|$)/;
/** Without its ending: short enough for a path of many folders. */
const LONGEST = 60;

/** A name in lower-case ASCII letters, figures, dots and hyphens; `otherwise` where none of it is left. */
export function safeName(text: string, otherwise = "wing"): string {
  const clean = text
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/ß/gu, "ss")
    .replace(/[æœ]/gu, (sign) => (sign === "æ" ? "ae" : "oe"))
    .replace(/[^a-z0-9.]+/gu, "-")
    .slice(0, LONGEST)
    .replace(/^[-.]+|[-.]+$/gu, "");
  if (clean === "") return otherwise;
  return DEVICE.test(clean) ? `${otherwise}-${clean}` : clean;
}

/** The same names, each after a like one with a number before its ending: `view.png`, `view-2.png`. */
export function unlike(names: readonly string[]): readonly string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    const [, stem = name, ending = ""] = /^(.*?)((?:\.[a-z0-9]+)?)$/isu.exec(name) ?? [];
    let free = name;
    // Some systems don't tell capitals from small letters.
    for (let n = 2; taken.has(free.toLowerCase()); n++) free = `${stem}-${n}${ending}`;
    taken.add(free.toLowerCase());
    return free;
  });
}
