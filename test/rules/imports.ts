import { parseSync, Visitor } from "vite";

/** How one file names another. */
export type ImportKind =
  | "import"
  | "type import"
  | "re-export"
  | "dynamic import"
  | "type query"
  | "require"
  | "url"
  | "module declaration"
  | "reference"
  | "unreadable";

export interface Import {
  readonly kind: ImportKind;
  /** As written, without a `?query`; for `unreadable`, the source text of the expression. */
  readonly specifier: string;
  readonly line: number;
}

/** Vite's macros and Node's resolvers that reach files by patterns or computed names. */
const reachingProperties = new Set(["glob", "globEager", "resolve"]);

/**
 * Every place in a source text that names another file or package: static and type-only imports, re-exports,
 * `import()`, `import("…").T`, `require`, `new URL("…", import.meta.url)` (a worker's entry), `declare module` and
 * triple-slash references; and what JSX imports unwritten. A name that is computed can't be judged: it is returned as `unreadable`, but a URL
 * whose folder is written out is returned as that folder with a star: `../../public/*`.
 *
 * @throws {Error} if the text can't be parsed
 */
export function importsOf(file: string, text: string): readonly Import[] {
  const { program, comments, errors } = parseSync(file, text);
  const [error] = errors;
  if (error !== undefined) throw new Error(`${file} can't be parsed: ${error.message}`);
  const found: Import[] = [];

  const add = (kind: ImportKind, node: Span, specifier: string) =>
    found.push({ kind, specifier: specifier.replace(/\?.*$/, ""), line: lineAt(text, node.start) });
  const addExpression = (kind: ImportKind, node: Span, argument: Expression | undefined) => {
    const specifier = literalText(argument);
    if (specifier !== undefined) add(kind, node, specifier);
    else if (kind === "url" && folderText(argument) !== undefined)
      add(kind, node, `${folderText(argument)}*`);
    else add("unreadable", node, text.slice(node.start, node.end));
  };

  new Visitor({
    ImportDeclaration(node) {
      const onlyTypes =
        node.importKind === "type" ||
        (node.specifiers.length > 0 &&
          node.specifiers.every((each) => each.type === "ImportSpecifier" && each.importKind === "type"));
      add(onlyTypes ? "type import" : "import", node, node.source.value);
    },
    ExportAllDeclaration(node) {
      add("re-export", node, node.source.value);
    },
    ExportNamedDeclaration(node) {
      if (node.source !== null) add("re-export", node, node.source.value);
    },
    ImportExpression(node) {
      // `import(new URL("…", import.meta.url))` is seen as its URL.
      if (!isOwnUrl(node.source)) addExpression("dynamic import", node, node.source);
    },
    TSImportType(node) {
      addExpression("type query", node, node.source);
    },
    TSImportEqualsDeclaration(node) {
      if (node.moduleReference.type === "TSExternalModuleReference")
        add("require", node, node.moduleReference.expression.value);
    },
    TSModuleDeclaration(node) {
      if (node.id.type === "Literal") add("module declaration", node, node.id.value);
    },
    NewExpression(node) {
      if (isOwnUrl(node)) addExpression("url", node, node.arguments[0]);
    },
    CallExpression(node) {
      if (node.callee.type === "Identifier" && node.callee.name === "require")
        addExpression("require", node, node.arguments[0]);
      if (
        node.callee.type === "MemberExpression" &&
        node.callee.object.type === "MetaProperty" &&
        node.callee.property.type === "Identifier" &&
        reachingProperties.has(node.callee.property.name)
      )
        add("unreadable", node, text.slice(node.start, node.end));
    },
  }).visit(program);

  // JSX is compiled to calls of this module, though no import is written.
  if (/\.[jt]sx$/.test(file)) found.push({ kind: "import", specifier: "react/jsx-runtime", line: 1 });
  for (const comment of comments) {
    const reference = /^\/\s*<reference\s+(?:path|types)\s*=\s*["']([^"']+)["']/.exec(comment.value);
    if (reference?.[1] !== undefined) add("reference", comment, reference[1]);
    const pragma = /@jsxImportSource\s+(\S+)/.exec(comment.value);
    if (pragma?.[1] !== undefined) add("import", comment, pragma[1]);
  }
  return found.sort((a, b) => a.line - b.line);
}

interface Span {
  readonly start: number;
  readonly end: number;
}

/** As much of a syntax tree's expression as is looked at here. */
interface Expression extends Span {
  readonly type: string;
}

/** Text of a string, or of a template without expressions. */
function literalText(node: Expression | undefined): string | undefined {
  if (node === undefined) return undefined;
  if (node.type === "Literal" && "value" in node && typeof node.value === "string") return node.value;
  if (node.type === "TemplateLiteral" && "quasis" in node) {
    const parts = node.quasis as readonly { readonly value: { readonly cooked: string | null } }[];
    if (parts.length === 1) return parts[0]?.value.cooked ?? undefined;
  }
  return undefined;
}

/** Folder, with its slash, of a template that begins with one: `../../public/` of `../../public/${name}`. */
function folderText(node: Expression | undefined): string | undefined {
  if (node?.type !== "TemplateLiteral" || !("quasis" in node)) return undefined;
  const parts = node.quasis as readonly { readonly value: { readonly cooked: string | null } }[];
  return /^.*\//.exec(parts[0]?.value.cooked ?? "")?.[0];
}

/** Whether an expression is `new URL(…, import.meta.url)`. */
function isOwnUrl(node: Expression): boolean {
  if (node.type !== "NewExpression" || !("callee" in node) || !("arguments" in node)) return false;
  const callee = node.callee as Expression & { readonly name?: string };
  const base = (node.arguments as readonly Expression[])[1] as
    | (Expression & { readonly object?: Expression; readonly property?: { readonly name?: string } })
    | undefined;
  return (
    callee.type === "Identifier" &&
    callee.name === "URL" &&
    base?.type === "MemberExpression" &&
    base.object?.type === "MetaProperty" &&
    base.property?.name === "url"
  );
}

/** Line number, from 1, of a place in a text. */
function lineAt(text: string, offset: number): number {
  let line = 1;
  for (let at = text.indexOf("\n"); at !== -1 && at < offset; at = text.indexOf("\n", at + 1)) line++;
  return line;
}
