import { parseSync, Visitor } from "vite";

/** A text in a source that a person would read in one language only. */
export interface HardText {
  readonly line: number;
  readonly text: string;
}

/** A use of the catalogue. */
export interface Said {
  readonly line: number;
  /** Undefined where it isn't written out. */
  readonly key: string | undefined;
  /** Names of the values handed over; undefined where they aren't written out. */
  readonly values: readonly string[] | undefined;
  /** False while the module loads, when the language isn't set yet. */
  readonly inFunction: boolean;
}

export interface Texts {
  readonly hard: readonly HardText[];
  readonly said: readonly Said[];
  /** All string literals, for keys that are handed on. */
  readonly literals: ReadonlySet<string>;
  /** Members of types written as strings: names in the program, whatever they read like. */
  readonly names: ReadonlySet<string>;
}

/** Two words after each other read as a text; one word may be a name in the program. */
const TWO_WORDS = /\p{L}{2,}[,.:;]? [\p{L}(]/u;
const A_WORD = /\p{L}{2,}/u;
/** Attributes that a person reads or hears. */
const SPOKEN =
  /^(?:aria-label|aria-description|aria-roledescription|aria-valuetext|title|placeholder|alt|label|legend|heading|text|caption)$/;
/** Attributes that hold no text. */
const SILENT = /^(?:className|style|d|points|transform|viewBox|preserveAspectRatio|accept|data-.*)$/;
/** Calls whose arguments are for programmers, or for files that all languages share. */
const UNSPOKEN_CALL =
  /(?:^console\.\w+|\.(?:describe|meta|register|matches|closest|querySelector|querySelectorAll)|^matchMedia|^useMedia|CSS\.supports)$/;

interface Span {
  readonly start: number;
  readonly end: number;
}

/** @throws {Error} if the text can't be parsed */
export function textsOf(file: string, text: string): Texts {
  const { program, errors } = parseSync(file, text);
  const [error] = errors;
  if (error !== undefined) throw new Error(`${file} can't be parsed: ${error.message}`);
  const source = ({ start, end }: Span): string => text.slice(start, end);
  const lineOf = (at: number): number => text.slice(0, at).split("\n").length;
  const silent: Span[] = [];
  const functions: Span[] = [];
  const candidates: { readonly at: number; readonly text: string }[] = [];
  const said: (Omit<Said, "inFunction"> & { readonly at: number })[] = [];
  const literals = new Set<string>();
  const names = new Set<string>();

  new Visitor({
    ImportDeclaration: (node) => void silent.push(node),
    ExportNamedDeclaration: (node) => void (node.source !== null && silent.push(node)),
    ExportAllDeclaration: (node) => void silent.push(node),
    ThrowStatement: (node) => void silent.push(node),
    NewExpression: (node) => void (/Error$/.test(source(node.callee)) && silent.push(node)),
    TSLiteralType: (node) => {
      silent.push(node);
      if (node.literal.type === "Literal" && typeof node.literal.value === "string")
        names.add(node.literal.value);
    },
    FunctionDeclaration: (node) => void functions.push(node),
    FunctionExpression: (node) => void functions.push(node),
    ArrowFunctionExpression: (node) => void functions.push(node),
    CallExpression: (node) => {
      const callee = source(node.callee);
      if (UNSPOKEN_CALL.test(callee)) silent.push(node);
      if (callee !== "say" && callee !== "sayParts") return;
      const [key, values] = node.arguments;
      said.push({
        at: node.start,
        line: lineOf(node.start),
        key: key?.type === "Literal" && typeof key.value === "string" ? key.value : undefined,
        values:
          values === undefined
            ? []
            : values.type !== "ObjectExpression" || values.properties.some(({ type }) => type !== "Property")
              ? undefined
              : values.properties.flatMap((property) =>
                  property.type === "Property" ? [source(property.key).replace(/^"|"$/g, "")] : [],
                ),
      });
    },
    JSXText: (node) =>
      void (A_WORD.test(node.value) && candidates.push({ at: node.start, text: node.value })),
    JSXAttribute: (node) => {
      const name = source(node.name);
      if (SILENT.test(name)) silent.push(node);
      const { value } = node;
      if (SPOKEN.test(name) && value?.type === "Literal" && A_WORD.test(String(value.value)))
        candidates.push({ at: value.start, text: String(value.value) });
    },
    Literal: (node) => {
      if (typeof node.value !== "string") return;
      literals.add(node.value);
      if (TWO_WORDS.test(node.value)) candidates.push({ at: node.start, text: node.value });
    },
    TemplateElement: (node) => {
      const value = node.value.cooked ?? "";
      if (TWO_WORDS.test(value)) candidates.push({ at: node.start, text: value });
    },
  }).visit(program);

  const within = (at: number, spans: readonly Span[]): boolean =>
    spans.some(({ start, end }) => at >= start && at < end);
  const hard = new Map(
    candidates
      .filter(({ at }) => !within(at, silent))
      .map((found) => [found.at, { line: lineOf(found.at), text: found.text.trim() }]),
  );
  return {
    hard: [...hard.values()],
    said: said.map(({ at, ...rest }) => ({ ...rest, inFunction: within(at, functions) })),
    literals,
    names,
  };
}
