/** What a message in ICU MessageFormat asks for. */
import { IntlMessageFormat } from "intl-messageformat";

type Elements = ReturnType<IntlMessageFormat["getAst"]>;

const TYPE = { literal: 0, argument: 1, select: 5, plural: 6, pound: 7 } as const;

function elementsOf(message: string): Elements {
  return new IntlMessageFormat(message, "en", undefined, { ignoreTag: true }).getAst();
}

function walk(elements: Elements, seen: (name: string, cases: readonly string[] | undefined) => void): void {
  for (const element of elements) {
    if (element.type === TYPE.literal || element.type === TYPE.pound) continue;
    const { value } = element as { value: string };
    if (element.type === TYPE.select || element.type === TYPE.plural) {
      const { options } = element as { options: Record<string, { value: Elements }> };
      // How many cases a plural has is the language's matter.
      seen(value, element.type === TYPE.select ? Object.keys(options).sort() : undefined);
      for (const option of Object.values(options)) walk(option.value, seen);
    } else seen(value, undefined);
  }
}

/** The names of a message's places, in alphabetical order. */
export function placesOf(message: string): readonly string[] {
  const names = new Set<string>();
  walk(elementsOf(message), (name) => names.add(name));
  return [...names].sort();
}

/** The places, and the cases that a choice is made between somewhere in the message. */
export function shapeOf(message: string): Readonly<Record<string, readonly string[]>> {
  const shape = new Map<string, Set<string>>();
  walk(elementsOf(message), (name, cases) => {
    const known = shape.get(name) ?? new Set();
    for (const each of cases ?? []) known.add(each);
    shape.set(name, known);
  });
  return Object.fromEntries([...shape].sort().map(([name, cases]) => [name, [...cases].sort()]));
}
