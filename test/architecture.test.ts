import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";

const root = path.resolve(import.meta.dirname, "..");
const layers = ["core", "server", "extension", "scripts"];

/** One source file: its path from the root of the checkout, and its text. */
interface Source {
  readonly file: string;
  readonly text: string;
}

/** One import: who imports, and what; `target` is a path from the root for our own files, else the package's name. */
interface Import {
  readonly file: string;
  readonly target: string;
  readonly own: boolean;
  readonly typeOnly: boolean;
}

const sources: Source[] = layers.flatMap((layer) =>
  readdirSync(path.join(root, layer), { recursive: true, encoding: "utf8" })
    .filter((file) => /\.(ts|mjs)$/.test(file))
    .map((file) => {
      const from = path.posix.join(layer, ...file.split(path.sep));
      return { file: from, text: readFileSync(path.join(root, from), "utf8") };
    }),
);
const imports = sources.flatMap(importsOf);

/** The text without comments; what stands in strings may lose its end, which no rule below looks at. */
function withoutComments(text: string): string {
  return text.replaceAll(/\/\*[\s\S]*?\*\//g, "").replaceAll(/(^|\s)\/\/.*$/gm, "$1");
}

/** Every import, export-from and dynamic import of a source. */
function importsOf({ file, text }: Source): Import[] {
  const statement = /(?:^|\n)\s*(?:import|export)\s+(type\s+)?(?:[\w*{][^"';]*?\sfrom\s+)?["']([^"']+)["']|\bimport\(\s*["']([^"']+)["']/g;
  return [...withoutComments(text).matchAll(statement)].map(([, typed, named, dynamic]) => {
    const given = named ?? dynamic ?? "";
    const own = given.startsWith(".");
    return {
      file,
      own,
      typeOnly: typed !== undefined,
      target: own ? fileAt(path.posix.join(path.posix.dirname(file), given)) : given,
    };
  });
}

/** The source that an import without an ending means. */
function fileAt(target: string): string {
  const known = [target, `${target}.ts`, `${target}/index.ts`].find((file) => sources.some((source) => source.file === file));
  return known ?? target;
}

/** Lines `a.ts imports b.ts` for every import that `wrong` holds of; an empty list is what a rule expects. */
function offenders(wrong: (found: Import) => boolean): string[] {
  return imports.filter(wrong).map(({ file, target }) => `${file} imports ${target}`);
}

/** Expects that no file below `folder` imports one of our own files for which `allowed` is false. */
function checkArrows(folder: string, allowed: RegExp): void {
  expect(offenders(({ file, target, own }) => file.startsWith(`${folder}/`) && own && !allowed.test(target))).toEqual([]);
}

/** Expects that every package imported below `folder` matches `allowed`. */
function checkPackages(folder: string, allowed: RegExp): void {
  expect(offenders(({ file, target, own }) => file.startsWith(`${folder}/`) && !own && !allowed.test(target))).toEqual([]);
}

/** Expects that no source below one of `folders` has a stretch of code, outside comments, that matches `forbidden`. */
function checkCode(folders: readonly string[], forbidden: RegExp): void {
  const found = sources
    .filter(({ file }) => folders.some((folder) => file.startsWith(`${folder}/`)))
    .flatMap(({ file, text }) => (withoutComments(text).match(forbidden) ?? []).slice(0, 1).map((match) => `${file}: ${match}`));
  expect(found).toEqual([]);
}

test("reads every kind of import", () => {
  const text = [
    'import a, { b } from "./a";',
    "import type {",
    "  C,",
    '} from "../c";',
    'import "./effect";',
    'export * from "./all";',
    'export { d } from "package/part";',
    '// import no from "./comment";',
    'const late = await import("node:fs");',
  ].join("\n");
  const found = importsOf({ file: "core/x/y.ts", text }).map(({ target, typeOnly }) => (typeOnly ? `type ${target}` : target));
  expect(found).toEqual(["core/x/a", "type core/c", "core/x/effect", "core/x/all", "package/part", "node:fs"]);
});

test("every import of our own leads to a file that is there", () => {
  expect(offenders(({ own, target }) => own && !sources.some(({ file }) => file === target))).toEqual([]);
});

test("core imports core alone", () => checkArrows("core", /^core\//));
test("server imports core and server", () => checkArrows("server", /^(core|server)\//));
test("the host imports no renderer, and the renderer no host and no server", () => {
  checkArrows("extension/host", /^(core|server|extension\/host)\//);
  checkArrows("extension/renderer", /^(core|extension\/renderer)\//);
  checkArrows("extension/panel", /^(core\/|extension\/panel\/|extension\/renderer\/make-element\.ts$)/);
  checkPackages("extension/panel", /^$/);
});
test("only what starts in an editor on a machine or in a browser tells the two apart", () => {
  checkArrows("extension/node", /^(core|server\/(node-files|kernel\/messages)\.ts|extension\/(host|node)\/)/);
  checkArrows("extension/web", /^(core|extension\/(host|web)\/)/);
  checkPackages("extension/node", /^(node:|vscode$|vscode-languageclient\/node$)/);
  checkPackages("extension/web", /^(vscode$|vscode-languageclient\/browser$)/);
  checkPackages("server/web", /^vscode-languageserver\/browser$/);
});
test("nothing that a browser loads uses what Node alone has", () => {
  const loaded = new Set(["extension/web/main.ts", "server/web/main.ts", "extension/renderer/index.ts", "extension/panel/main.ts"]);
  for (const file of loaded) for (const found of imports) if (found.file === file && found.own && !found.typeOnly) loaded.add(found.target);
  const nodeOnly = /(?<![.\w"])(Buffer|process|__dirname|__filename|require|setImmediate|global)(?=[.(])/;
  const found = sources.filter(({ file }) => loaded.has(file)).flatMap(({ file, text }) => (withoutComments(text).match(nodeOnly) ?? []).slice(0, 1).map((match) => `${file}: ${match}`));
  expect(loaded.size).toBeGreaterThan(300);
  expect(found).toEqual([]);
});
test("scripts import no extension", () => checkArrows("scripts", /^(core|server|scripts)\//));

test("of the server, the host takes messages, requests and the way to read files", () => {
  expect(
    offenders(
      ({ file, target }) =>
        file.startsWith("extension/host/") &&
        target.startsWith("server/") &&
        !/^server\/((kernel|results)\/messages|language\/requests)\.ts$/.test(target),
    ),
  ).toEqual([]);
});

test("core uses table, chart and parser libraries, and no other package", () => {
  checkPackages("core", /^(acorn|arquero|markdown-it|yaml|vega|vega-lite|vega-interpreter|hyparquet|@stdlib\/[\w-]+)(\/|$)/);
});
test("server uses the protocol library, the chart library, the formatter and Node", () => {
  checkPackages("server", /^(node:|vscode-languageserver(-textdocument)?(\/|$)|vega(-lite|-interpreter)?$|prettier\/(standalone|plugins\/(acorn|estree))$)/);
});
test("the host uses the editor and the protocol library, and nothing of a machine", () => {
  checkPackages("extension/host", /^(vscode|vscode-languageclient)$/);
});
test("the renderer uses the chart library and neither editor nor Node", () => {
  checkPackages("extension/renderer", /^(vega(-lite|-interpreter)?|vscode-notebook-renderer)$/);
});

test("the query language is handed its verbs, functions and charts, and imports none", () => {
  expect(offenders(({ file, target }) => file.startsWith("core/query/") && /^core\/(verbs|functions|chart)\//.test(target))).toEqual([]);
});
test("only the query language parses a cell", () => {
  expect(offenders(({ file, target }) => /^acorn(\/|$)/.test(target) && !file.startsWith("core/query/"))).toEqual([]);
});

test("no import cycle", () => {
  const next = new Map<string, string[]>();
  for (const { file, target, own } of imports) if (own) next.set(file, [...(next.get(file) ?? []), target]);
  const done = new Set<string>();
  const cycles: string[] = [];
  const follow = (file: string, way: readonly string[]): void => {
    if (way.includes(file)) cycles.push([...way.slice(way.indexOf(file)), file].join(" -> "));
    if (done.has(file) || way.includes(file)) return;
    for (const target of next.get(file) ?? []) follow(target, [...way, file]);
    done.add(file);
  };
  for (const file of next.keys()) follow(file, []);
  expect(cycles).toEqual([]);
});

test("files are named after their subject, in kebab-case, and index.ts stands at a layer's door only", () => {
  const named = /(^|\/)[a-z0-9]+(-[a-z0-9]+)*(\.d)?\.(ts|mjs)$/;
  const catchAll = /(^|[/-])(utils?|helpers?|common|misc)(\.|-)/;
  const doors = ["extension/renderer/index.ts"];
  const wrong = sources
    .map(({ file }) => file)
    .filter((file) => !named.test(file) || catchAll.test(file) || (file.endsWith("/index.ts") && !doors.includes(file)));
  expect(wrong).toEqual([]);
});

test("an import of our own TypeScript names no file ending", () => {
  const named = sources.flatMap(({ file, text }) => (withoutComments(text).match(/from ["']\.[^"']*\.(?:ts|js)["']/g) ?? []).map((found) => `${file}: ${found}`));
  expect(named).toEqual([]);
});

test("core reads no clock, no machine setting and no unseeded random number", () => {
  checkCode(["core"], /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\bperformance\.now\b|\.toLocale\w+\(|\bIntl\.|\.localeCompare\(/);
});
test("no text becomes code", () => {
  checkCode(layers, /\beval\(|\bnew Function\b|\bFunction\(/);
});
test("nothing is reached over a network", () => {
  checkCode(["core", "server", "extension"], /\bfetch\(|\bXMLHttpRequest\b|\bWebSocket\b|["']node:(http|https|http2|net|tls|dgram|dns)["']/);
});
test("no message calls a difference by the word that says nothing of its size", () => {
  checkCode(["core", "server", "extension"], /\bsignifican(t|tly|ce)\b(?! (digit|figure))/i);
});
