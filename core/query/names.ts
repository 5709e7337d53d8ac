/**
 * Names that mean something to a JavaScript engine's objects. They are refused as members, columns, keys and names,
 * although every look-up here is in a map of our own: what a reader or another program takes for a way out of a
 * table is not written in a notebook.
 */
const engineNames: ReadonlySet<string> = new Set([
  "__proto__",
  "__defineGetter__",
  "__defineSetter__",
  "__lookupGetter__",
  "__lookupSetter__",
  "apply",
  "arguments",
  "bind",
  "call",
  "callee",
  "caller",
  "constructor",
  "eval",
  "exec",
  "hasOwnProperty",
  "isPrototypeOf",
  "propertyIsEnumerable",
  "prototype",
  "then",
  "toJSON",
  "toLocaleString",
  "toString",
  "valueOf",
]);

/** Keys by which an object would pass for a regular expression or another object of the engine. */
const impostorKeys: ReadonlySet<string> = new Set(["flags", "global", "lastIndex", "source", "unicode", "sticky"]);

/** Names of the sources that make a table from options; a test holds them to those of the vocabulary. */
export const sourceNames: readonly string[] = ["flight"];

/** Names that a cell or a constant cannot have, and what they are instead. */
const taken: ReadonlyMap<string, string> = new Map([
  ["op", "it is where the functions are"],
  ["chart", "it is where the charts are"],
  ["chosen", "it is where the choices of the front matter are"],
  ["text", "it stands before a text with numbers in it"],
  ["session", "it opens a session"],
  ["sessions", "it opens the sessions of a folder"],
  ...sourceNames.map((name) => [name, "it makes a table"] as const),
  ["shots", "it is the table of the front matter's sessions"],
  ["aq", "it would be taken for a library"],
  ["d", "it is the usual name of a row"],
  ["undefined", "it looks like a missing value"],
  ["NaN", "it looks like a missing value"],
  ["Infinity", "it looks like a number"],
  ...["Array", "BigInt", "Date", "Function", "JSON", "Map", "Math", "Number", "Object", "Promise", "Proxy", "Reflect"].map(
    (name) => [name, "it belongs to JavaScript"] as const,
  ),
  ...["RegExp", "Set", "String", "Symbol", "console", "exports", "fetch", "global", "globalThis", "module"].map(
    (name) => [name, "it belongs to JavaScript"] as const,
  ),
  ...["process", "require", "self", "setInterval", "setTimeout", "window", "document"].map(
    (name) => [name, "it belongs to JavaScript"] as const,
  ),
]);

/** Words of the language that no name can be. */
const keywords: ReadonlySet<string> = new Set(
  (
    "await break case catch class const continue debugger default delete do else enum export extends false " +
    "finally for function if implements import in instanceof interface let new null package private protected " +
    "public return static super switch this throw true try typeof var void while with yield"
  ).split(" "),
);

/** True when a member, a column, a key or a name may not be called `name`, wherever it stands. */
export function isEngineName(name: string): boolean {
  return engineNames.has(name);
}

/** True when no object in a cell may have the key `name`. */
export function isRefusedKey(name: string): boolean {
  return engineNames.has(name) || impostorKeys.has(name);
}

/**
 * Why a cell or a constant cannot be called `name`, in words that follow "because"; `null` when it can.
 *
 * @example whyNotAName("op") // "it is where the functions are"
 */
export function whyNotAName(name: string): string | null {
  if (!/^[\p{ID_Start}_][\p{ID_Continue}]*$/u.test(name)) return "a name is letters, digits and _, and begins with no digit";
  if (keywords.has(name)) return "it is a word of the language";
  if (engineNames.has(name)) return "it belongs to JavaScript";
  return taken.get(name) ?? null;
}

/** Why a row function's parameter cannot be called `name`; `null` when it can. */
export function whyNotARow(name: string): string | null {
  return name === "d" ? null : whyNotAName(name);
}
