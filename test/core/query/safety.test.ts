import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "esbuild";
import * as fc from "fast-check";
import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { syntaxProblem } from "../../../core/query/read-tokens";
import { lineTable } from "../../../core/text-position";
import { check, header, run } from "./query-support";
import { randomExpressions, randomTables } from "./random-rows";

/** Every own key of the engine's shared objects, with what each key holds. */
function sharedObjects(): ReadonlyMap<string, unknown> {
  const shared = { Object, Array, Function, String, Number, Boolean, Map, Set, RegExp, Promise, JSON, Math, Reflect };
  const objects: [string, object][] = Object.entries(shared);
  for (const [name, value] of Object.entries(shared)) if ("prototype" in value) objects.push([`${name}.prototype`, value.prototype]);
  const state = new Map<string, unknown>();
  for (const [name, object] of objects) {
    for (const key of Reflect.ownKeys(object)) state.set(`${name}.${String(key)}`, Object.getOwnPropertyDescriptor(object, key)!.value);
  }
  for (const key of Reflect.ownKeys(globalThis)) state.set(`globalThis.${String(key)}`, typeof key);
  return state;
}

test("Q-31 ten thousand accepted cells leave the engine's shared objects as they were", () => {
  const before = sharedObjects();
  let accepted = 0;
  fc.assert(
    fc.property(randomTables, randomExpressions.truth, randomExpressions.number, ({ table }, condition, number) => {
      const body = `shots.filter(d => ${condition.text}).derive({ x: d => ${number.text} }).groupby("s1").rollup({ m: op.mean("x"), f: op.first("s2") })`;
      run(body, { tables: new Map([["shots", table]]) });
      accepted++;
    }),
    { seed: 31, numRuns: 10_000 },
  );
  expect(accepted).toBe(10_000);
  const after = sharedObjects();
  const changed = [...new Set([...before.keys(), ...after.keys()])].filter((key) => !Object.is(before.get(key), after.get(key)));
  expect(changed).toEqual([]);
});

const pieces = fc.constantFrom(
  ..."shots stock . filter derive rollup ( ) [ ] { } d => > < === && || ! - + * / % ? : , ; = == const null true this new \" ' ` ${ // /* */ op mean chart".split(" "),
  ..."carry head \"carry\" \"Wren\" 1 2.5 1e999 0x1 ... ?. ?? ** ++ # @ \\ \\u0063 __proto__ constructor eval async await yield let class function".split(" "),
  "\n",
  "\u2028",
  "\u202e",
  "\u0441",
  "🦅",
);

test("G1 any text gives a value or problems, each placed inside the text, and never an exception", () => {
  fc.assert(
    fc.property(fc.oneof(fc.string({ unit: "binary", maxLength: 60 }), fc.array(pieces, { maxLength: 40 }).map((all) => all.join(" "))), (body) => {
      const { value, problems } = check(body);
      expect(value !== null || problems.some((found) => found.severity === "error")).toBe(true);
      const lines = lineTable(header + body);
      for (const { range, message, hint } of problems) {
        expect(lines.offsetAt(range.start)).toBeLessThanOrEqual(lines.offsetAt(range.end));
        expect(range).toEqual(lines.rangeAt(lines.offsetAt(range.start), lines.offsetAt(range.end)));
        expect(message).not.toBe("");
        expect(hint).not.toBe("");
      }
    }),
    { seed: 1, numRuns: 4000 },
  );
});

test("Q-29 one piece of foreign text in an accepted cell is accepted only when it changes nothing that runs", () => {
  const good = 'shots.filter(d => d.carry > 150 && d.head === "Wren").select("carry")';
  fc.assert(
    fc.property(fc.nat(good.length), pieces, (at, piece) => {
      const body = `${good.slice(0, at)}${piece}${good.slice(at)}`;
      const { value } = check(body);
      if (value?.runnable === true) expect(run(body).value, body).not.toBeNull();
    }),
    { seed: 29, numRuns: 3000 },
  );
});

const links = fc.constantFrom("()", "(f)", "[0]", '["a"]', ".b", ".b()", "`x`", "?.b", " + f", " ? f : f", " && !f", "\n(f)", "(d => d)", "({ a: f })", ", f", " => f");
const openings = fc.constantFrom("", "(", "[", "!", "- ", "f(", "d => ", "{ a: ", "f ? ", "f + (", "f(!", "`${");

test("a chain or a nest of any length and mixture is refused or read, and never exhausts the stack", () => {
  const chains = fc.array(links, { minLength: 1, maxLength: 4 }).map((all) => all.join(""));
  const nests = fc.array(openings, { minLength: 1, maxLength: 4 }).map((all) => all.join(""));
  fc.assert(
    fc.property(chains, nests, fc.integer({ min: 1, max: 6000 }), fc.integer({ min: 0, max: 600 }), (chain, nest, length, depth) => {
      const body = `${nest.repeat(depth)}f${chain.repeat(length)}`.slice(0, defaultLimits.cellText);
      const { value, problems } = check(body);
      expect(value !== null || problems.some((found) => found.severity === "error")).toBe(true);
    }),
    { seed: 35, numRuns: 400 },
  );
});

test("a full stack is a text that is too deep, and a fault of the program stays one", () => {
  const lines = lineTable("q\nf()()");
  expect(syntaxProblem(new RangeError("Maximum call stack size exceeded"), "q\nf()()", 2, lines)).toMatchObject({
    code: "query.too-deep",
    range: lines.rangeAt(2, 7),
  });
  expect(() => syntaxProblem(new TypeError("no"), "q\nf()()", 2, lines)).toThrow(TypeError);
});

test("Q-30 where compiling is forbidden, cells run, and a verb that compiles says so", async () => {
  const folder = mkdtempSync(join(tmpdir(), "query-"));
  try {
    const outfile = join(folder, "cells.mjs");
    const contents = `
      import { listsOf, run } from "./query-support";
      for (const body of [
        'shots.filter(d => d.carry > 150).groupby("head").rollup({ m: op.mean("carry") }).pivot("head", "m")',
        'shots.orderby("carry")',
      ]) {
        const { value, problems } = run(body);
        console.log(value === null ? problems[0].code : Object.keys(listsOf(value)).join(" "));
      }`;
    const stdin = { contents, resolveDir: import.meta.dirname, loader: "ts" } as const;
    await build({ stdin, bundle: true, platform: "node", format: "esm", outfile, logLevel: "error" });
    const said = execFileSync(process.execPath, ["--disallow-code-generation-from-strings", outfile], { encoding: "utf8" });
    expect(said.trim().split("\n")).toEqual(["Wren Heron Plover", "run.no-code-generation"]);
  } finally {
    rmSync(folder, { recursive: true });
  }
});

test("one file of core imports the library that compiles, and one folder the parser", () => {
  const core = join(import.meta.dirname, "../../../core");
  const importing = (library: string): string[] =>
    readdirSync(core, { recursive: true, encoding: "utf8" })
      .filter((file) => file.endsWith(".ts") && new RegExp(`from "${library}["/]`).test(readFileSync(join(core, file), "utf8")))
      .map((file) => file.replaceAll("\\", "/"))
      .sort();
  expect(importing("arquero")).toEqual(["verbs/arquero-rows.ts"]);
  expect(importing("acorn").filter((file) => !file.startsWith("query/"))).toEqual([]);
});
