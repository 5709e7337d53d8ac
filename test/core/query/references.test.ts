import { expect, test } from "vitest";
import { referencesOf } from "../../../core/query/references";
import { header } from "./query-support";

function checkReferences(body: string, names: string[], paths: string[] = []): void {
  const found = referencesOf(header + body, header.length);
  expect(found.names.map(({ name }) => name)).toEqual(names);
  expect(found.paths.map(({ path }) => path)).toEqual(paths);
}

test("tables are named where a chain begins, between a verb's brackets and in charts", () => {
  checkReferences("shots", ["shots"]);
  checkReferences('a.join(b.filter(d => d.c > e), "f").concat(g)', ["a", "b", "g"]);
  checkReferences('chart.landing(a, { by: "head" })', ["a"]);
  checkReferences('a.rollup({ m: op.mean("carry") })', ["a"]);
});

test("constants of the cell are no references once they are made", () => {
  checkReferences("const a = b\na.concat(a)", ["b"]);
  checkReferences("const a = a\na", ["a"]);
});

test("tables are named in the holes of a text, and text itself is none", () => {
  checkReferences('const c = a\ntext`${b.one("x")} ${c.join(e).sentences()}\n${f}`', ["a", "b", "e", "f"]);
  checkReferences("text`${text}`", []);
  expect(referencesOf(header + "text`${a}`", header.length)).toMatchObject({ gives: "text", names: [{ range: { start: { line: 2, column: 8 } } }] });
  expect(["a", "chart.landing(a)", "text`", "text`a`"].map((body) => referencesOf(header + body, header.length).gives)).toEqual(["table", "chart", "table", "text"]);
});

test("paths of sessions", () => {
  checkReferences('session("a.session.yaml").concat(sessions("b/*.session.yaml"))', [], ["a.session.yaml", "b/*.session.yaml"]);
  checkReferences("session(a)", ["a"]);
});

test("wrong verbs and columns do not hide what a cell needs", () => {
  checkReferences("a.nothing(b).filter(d => d.x === 1)", ["a", "b"]);
});

test("text that cannot be read names no tables", () => {
  checkReferences("a.filter(", []);
  checkReferences("", []);
  checkReferences("eval(a)", []);
});

test("the sessions of a text that is being written are found, whatever cannot be read behind them", () => {
  checkReferences('session("a.session.yaml").filter(d => d.', [], ["a.session.yaml"]);
  checkReferences('session ( \'a.session.yaml\' ).filter(d => d.head === "', [], ["a.session.yaml"]);
  checkReferences('const a = sessions("b/*.session.yaml")\na.join(session("c.session.yaml"), ', [], ["b/*.session.yaml", "c.session.yaml"]);
  for (const none of ['// session("a.session.yaml")', '"session(" + \'session("a.session.yaml")\'', 'session("a.session.yaml', 'd.session("a.session.yaml")', 'my_session("a.session.yaml")', 'session("a.csv")'])
    checkReferences(`${none}\n.(`, []);
  expect(referencesOf('query=x\n  session("a.session.yaml").', 8).paths[0]!.range).toEqual({ start: { line: 2, column: 11 }, end: { line: 2, column: 27 } });
});

test("ranges are in the whole cell", () => {
  expect(referencesOf("query=x\n  stock", 8).names).toEqual([
    { name: "stock", range: { start: { line: 2, column: 3 }, end: { line: 2, column: 8 } } },
  ]);
});
