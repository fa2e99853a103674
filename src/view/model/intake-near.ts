/** Names of the plan that a name which it hasn't is nearly like. */
import type { Wing } from "../../plan/model.ts";

const MOST_NEAR = 4;
/** Signs that are taken for one another on paper and by machines that read it. */
const ALIKE: Readonly<Record<string, string>> = { o: "0", l: "1", i: "1", s: "5", z: "2" };

const plain = (name: string): string =>
  name
    .normalize("NFKC")
    .toLowerCase()
    .replace(/[\s\p{Pd}_.]+/gu, "");

/** The first sign is the row's letter; what follows is a number. */
const alike = (name: string): string =>
  name.slice(0, 1) + name.slice(1).replace(/[olisz]/gu, (sign) => ALIKE[sign] ?? sign);

/** How many signs must be put in, taken out or changed to come from one to the other (Levenshtein's distance). */
export function distance(one: string, other: string): number {
  let before = Array.from({ length: other.length + 1 }, (_, place) => place);
  for (const [at, sign] of [...one].entries()) {
    const row = [at + 1];
    for (let place = 0; place < other.length; place++) {
      const changed = (before[place] ?? 0) + (other[place] === sign ? 0 : 1);
      row.push(Math.min(changed, (before[place + 1] ?? 0) + 1, (row[place] ?? 0) + 1));
    }
    before = row;
  }
  return before[other.length] ?? 0;
}

/** At most four, nearest first: those with one sign different, in names of five signs and more two. */
export function nearNames(wing: Wing, text: string, kind: "tab" | "line"): readonly string[] {
  const wanted = plain(text);
  if (wanted === "") return [];
  const allowed = wanted.length >= 5 ? 2 : 1;
  const ids = [...new Set((kind === "tab" ? wing.tabs : wing.lines).map(({ id }) => id))];
  return ids
    .map((id) => {
      const name = plain(id);
      const off = alike(name) === alike(wanted) ? 0 : distance(wanted, name);
      return { id, off };
    })
    .filter(({ off }) => off <= allowed)
    .sort((one, other) => one.off - other.off)
    .slice(0, MOST_NEAR)
    .map(({ id }) => id);
}
