import { problemKind as kind, shown } from "./problem-kind";

const plainSubset = "maps, lists and plain or quoted values; write the value out where it is used";

/** What can be wrong with YAML text, before it is known what the text is for. */
export const yamlProblems = {
  "yaml.syntax": kind(
    "error",
    (f: { reason: string; found: string; accepted?: string }) => `this is not valid YAML at ${shown(f.found)}: ${f.reason}`,
    (f) => f.accepted ?? "one `key: value` a line, children indented by two spaces; quote a value that has `: `, ` #` or brackets in it",
  ),
  "yaml.alias": kind("error", (f: { text: string }) => `${shown(f.text)} is an alias, which is not read`, () => plainSubset),
  "yaml.anchor": kind("error", (f: { text: string }) => `${shown(f.text)} is an anchor, which is not read`, () => plainSubset),
  "yaml.tag": kind(
    "error",
    (f: { text: string }) => `${shown(f.text)} is a tag, which is not read`,
    () => "leave the tag out: what a value is follows from its key",
  ),
  "yaml.merge": kind("error", () => '"<<" would merge another map into this one, which is not done', () => plainSubset),
  "yaml.directive": kind(
    "error",
    (f: { text: string }) => `${shown(f.text)} is a directive, which is not read`,
    () => "leave the line out",
  ),
  "yaml.several-documents": kind(
    "error",
    () => "a second document begins here; only the first is read",
    () => "one document a file: leave out this `---` or `...` and what follows",
  ),
  "yaml.tab": kind(
    "error",
    () => "a tab stands where YAML wants spaces",
    () => "use spaces; a tab that belongs to a value goes between quotes",
  ),
  "yaml.duplicate-key": kind(
    "error",
    (f: { key: string; line: number }) => `${shown(f.key)} is already there on line ${f.line}; this one is not read`,
    () => "keep one of the two",
  ),
  "yaml.forbidden-name": kind(
    "error",
    (f: { key: string }) => `${shown(f.key)} cannot be a name here`,
    () => "use another name; names that every JavaScript object has are refused",
  ),
  "yaml.key": kind(
    "error",
    (f: { found: string }) => `${shown(f.found)} cannot be a key`,
    () => "a key is a plain or a quoted name on one line",
  ),
  "yaml.too-deep": kind(
    "error",
    (f: { most: number }) => `this is nested more than ${f.most} levels deep and is not read`,
    (f) => `nest at most ${f.most} levels`,
  ),
  "yaml.too-long": kind(
    "error",
    (f: { length: number; most: number }) => `this YAML text has ${f.length} characters and is not read`,
    (f) => `at most ${f.most} characters`,
  ),
  "yaml.more": kind(
    "error",
    (f: { total: number; listed: number }) => `${f.total} problems in this YAML in all; ${f.listed} of them are listed`,
    () => "mend the first ones and look again",
  ),
} as const;
