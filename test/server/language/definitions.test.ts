import { expect, test } from "vitest";
import { readSession } from "../../../core/session/read-session";
import { lineTable } from "../../../core/text-position";
import { readYaml } from "../../../core/yaml-text";
import { definitionsAt } from "../../../server/language/definitions";
import type { SessionView } from "../../../server/language/session-view";
import { atMark, notebookView, smallFront } from "../../support/notebook-view";
import { smallExport, smallFiles } from "../../support/small-session";

const files: Readonly<Record<string, string>> = smallFiles;

function sessionOf(path: string): Promise<SessionView | null> {
  const text = files[path];
  if (text === undefined) return Promise.resolve(null);
  let from = 0;
  const headers = smallExport.split("\n", 1)[0]!.split(",").map((name) => {
    const range = lineTable(smallExport).rangeAt(from, from + name.length);
    from += name.length + 1;
    return { name, range, values: [] };
  });
  const exports = [{ path: "s/small.csv", headers, rowCount: 12 }];
  const none = { path, text, session: readSession(text).value, tree: readYaml(text).value, exports, shots: null };
  return Promise.resolve({ ...none, listFolder: () => Promise.resolve([]) });
}

/** Each place as its cell or file and the text there; a file's beginning is empty. */
async function checkDefinitions(texts: readonly string[], expected: readonly string[]): Promise<void> {
  const cell = texts.findIndex((text) => text.includes("¦"));
  const { offset } = atMark(texts[cell]!);
  const view = await notebookView(texts.map((text, i) => [i === 0 ? "front" : text.startsWith("chart=") ? "chart" : "query", text.replace("¦", "")] as const));
  const places = await definitionsAt(view, cell, offset, sessionOf);
  const shown = places.map((place) => {
    if ("cell" in place) return `${place.cell} ${view.cells[place.cell]!.text.slice(place.from, place.to)}`;
    const lines = lineTable(files[place.path]!);
    return `${place.path} ${files[place.path]!.slice(lines.offsetAt(place.range.start), lines.offsetAt(place.range.end))}`;
  });
  expect(shown).toEqual(expected);
}

const front = smallFront[1];

test("a cell's first line", () => checkDefinitions([front, "query=a\nshots", "query=b\n¦a.count()"], ["1 a"]));
test("a chart's table", () => checkDefinitions([front, "query=a\nshots", "chart=c table=¦a\n{}"], ["1 a"]));
test("a constant", () => checkDefinitions([front, "query=a\nconst far = 1; shots.filter(d => d.carry > ¦far)"], ["1 far"]));
test("a row", () => checkDefinitions([front, "query=a\nshots.filter(d => ¦d.carry > 1)"], ["1 d"]));
test("a derived column, from a chart's field", () =>
  checkDefinitions([front, "query=a\nshots.derive({ curve: d => d.offline })", 'chart=c table=a\n{ "mark": "point", "encoding": { "x": { "field": "cur¦ve" } } }'], ["1 curve"]));
test.each([
  ["an option of a chart", "query=a\nshots.derive({ curve: d => d.head })", 'query=b\nchart.landing(a, { by: "cur¦ve" })', "1 curve"],
  ["a chart of which no JSON can be read", "query=a\nshots.derive({ curve: d => d.offline })", 'chart=c table=a\n{ "encoding": { "x": { "field": "cur¦ve" }', "1 curve"],
  ["a new name of rename", 'query=a\nshots.rename({ carry: "far" })', "query=b\na.filter(d => d.fa¦r > 1)", "1 far"],
  ["a name of rollup", 'query=a\nshots.groupby("head").rollup({ m: op.mean("carry") })', 'query=b\na.select("m¦")', "1 m"],
  ["the left side of a join", "query=a\nshots.derive({ curve: d => d.offline })", 'query=b\na.join(a, "head").select("curve¦_1")', "1 curve"],
  ["the right side of a join", "query=a\nshots.derive({ curve: d => d.offline })", 'query=b\na.join(a, "head").select("curve¦_2")', "1 curve"],
  ["a shot column in a join", "query=a\nshots", 'query=b\na.join(a, "head").select("carry¦_2")', "s/one.session.yaml carry"],
  ["an old name under rename", "query=a\nshots", 'query=b\na.rename({ carr¦y: "far" })', "s/one.session.yaml carry"],
  ["a healthy sibling of a mistake", "query=a\nshots.derive({ x: d => d.nope, curve: d => d.offline })", 'query=b\na.select("cur¦ve")', "1 curve"],
])("a column in %s", (_, first, second, expected) => checkDefinitions([front, first, second], [expected]));
test("a chart's own column is declared where a transform names it", () =>
  checkDefinitions([front, "query=a\nshots", 'chart=c table=a\n{ "transform": [{ "density": "carry", "as": ["v", "p"] }], "mark": "line", "encoding": { "x": { "field": "¦v" } } }'], ["2 v"]));
test("a column of a verb's own is made by the verb", () => checkDefinitions([front, 'query=a\nshots.groupby("head").count().select("co¦unt")'], ["1 count"]));
test("a shot column's line", () => checkDefinitions([front, "query=a\nshots.filter(d => d.car¦ry > 1)"], ["s/one.session.yaml carry"]));
test("a shot column of a plain line", () => checkDefinitions([front, 'query=a\nshots.select("sh¦ot")'], ["s/one.session.yaml shot"]));
test("a derived shot column", () => checkDefinitions([front, 'query=a\nshots.select("sti¦nt")'], ["s/one.session.yaml columns"]));
test("the column of a session's name", () => checkDefinitions([front, 'query=a\nshots.select("ses¦sion")'], ["s/one.session.yaml session"]));
test("a head", () => checkDefinitions([front, 'query=a\nshots.filter(d => d.head === "W¦ren")'], ["s/one.session.yaml Wren"]));
test("a head in an option", () => checkDefinitions([front, 'query=a\nshots.compare({ of: "carry", against: "Her¦on" })'], ["s/one.session.yaml Heron"]));
test("a session", () => checkDefinitions([front, 'query=a\nshots.filter(d => d.session === "on¦e")'], ["s/one.session.yaml one"]));
test("a path", () => checkDefinitions([front, 'query=a\nsession("s/o¦ne.session.yaml")'], ["s/one.session.yaml "]));
test("a pattern", () => checkDefinitions([front, 'query=a\nsessions("s/¦*.session.yaml")'], ["s/one.session.yaml "]));
test("shots", () => checkDefinitions([front, "query=a\n¦shots"], ["0 s/one.session.yaml"]));
test("a path in the front matter", () => checkDefinitions(["shots: s/o¦ne.session.yaml", "query=a\nshots"], ["s/one.session.yaml "]));
test("nothing", () => checkDefinitions([front, "query=a\nshots.filter¦(d => d.carry > 1)"], []));
test("a name without a declaration", () => checkDefinitions([front, "query=a\nno¦ne.count()"], []));
