import * as fc from "fast-check";
import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { checkDescription } from "../../../core/session/check-description";
import { describeSession } from "../../../core/session/data-description";
import { memoryFiles } from "../../support/memory-files";
import { smallExport, smallSession } from "../../support/small-session";

/** The description of a session with one export, its URL the path of the export; it keeps the standard's rules. */
async function describe(session: string, csv: string) {
  const files = memoryFiles({ "s/a.session.yaml": session, "s/a.csv": csv });
  const described = await describeSession("s/a.session.yaml", files, defaultLimits, (path) => encodeURI(path));
  if (described === null) return null;
  expect(checkDescription(JSON.parse(JSON.stringify(described.json)), (url) => described.headers.get(url) ?? null)).toEqual([]);
  return described.json;
}

async function columnsOf(session: string, csv: string) {
  return (await describe(session, csv))!.tables[0]!.tableSchema.columns;
}

const plain = "session: a\nsources: a.csv\n";

test("the small session: headers exactly, shot columns with unit and meaning, and the shot as the key", async () => {
  const json = (await describe(smallSession("one", "a.csv"), smallExport))!;
  expect(json["urn:fairstrike:synthetic"]).toBe(true);
  const [table] = json.tables;
  expect([table!.url, table!.tableSchema.primaryKey]).toEqual(["s/a.csv", "shot"]);
  expect(table!.tableSchema.columns.map(({ name, titles, datatype }) => [name, titles, datatype])).toEqual([
    ["shot", "No", "integer"],
    ["head", "Club", "string"],
    ["ball_speed", "Ball speed", "number"],
    ["carry", "Carry", "number"],
    ["offline", "Side", "number"],
  ]);
  expect(table!.tableSchema.columns[4]).toEqual({
    name: "offline",
    titles: "Side",
    "dc:description": { "@value": "where the ball lands, beside the target line; positive is right; in yd", "@language": "en" },
    "urn:fairstrike:column": "offline",
    "urn:fairstrike:unit": "yd",
    datatype: "number",
  });
  expect(table!.tableSchema.columns.map(({ required }) => required === true)).toEqual([true, true, false, false, false]);
});

test("how the file is read is its dialect", async () => {
  const json = await describe('session: a\nsources: { file: a.csv, skip_lines: 1 }\ncolumns: { carry: { from: Carry, unit: yd } }\n', "# bay 3\nClub;Carry\n#1;150,5\n;yd\n");
  expect(json!.tables[0]!.dialect).toMatchObject({ encoding: "utf-8", delimiter: ";", quoteChar: '"', commentPrefix: "//", headerRowCount: 1, skipRows: 1, trim: false });
  const units = await describe("session: a\nsources: a.csv\ncolumns: { carry: Carry }\n", "Club,Carry\n,yd\nWren,150\n");
  expect(units!.tables[0]!.dialect["headerRowCount"]).toBe(2);
  expect(units!.tables[0]!.tableSchema.columns[1]).toMatchObject({ "urn:fairstrike:unit": "yd", datatype: "integer" });
});

test("datatypes are those that every value has", async () => {
  const values = async (...cells: readonly string[]): Promise<unknown> => (await columnsOf(plain, `x,y\n${cells.map((cell) => `a,${cell}\n`).join("")}`))[1]!.datatype;
  expect(await values("1", "2")).toBe("integer");
  expect(await values("1", "2.5", "", "-1e3")).toBe("number");
  expect(await values("1", "2 yd")).toBe("string");
  expect(await values("1", "\u22122")).toBe("string");
  expect(await values("", "")).toBe("string");
  expect(await values("2026-03-14")).toBe("date");
  expect(await values("2026-13-14")).toBe("string");
  expect(await values("09:05:00")).toBe("time");
  expect(await values("09:05")).toEqual({ base: "time", format: "HH:mm" });
  expect(await values("2026-03-14T09:05:00Z")).toBe("dateTime");
  expect(await values("2026-03-14 09:05:00")).toEqual({ base: "dateTime", format: "yyyy-MM-dd HH:mm:ss" });
  const commas = await columnsOf("session: a\nsources: a.csv\n", "x;y\n1,5;2\n2,5;3\n");
  expect(commas.map(({ datatype }) => datatype)).toEqual([{ base: "number", format: { decimalChar: "," } }, "integer"]);
});

test("missing texts are null, in every column or in one", async () => {
  const columns = await columnsOf('session: a\nsources: a.csv\nmissing: ["n/a"]\ncolumns: { carry: { from: Carry, unit: yd, missing: ["0"] } }\n', "x,Carry\n1,150\nn/a,0\n");
  expect(columns.map((each) => [each.null, each.datatype])).toEqual([
    [["", "n/a"], "integer"],
    [["", "n/a", "0"], "integer"],
  ]);
});

test("limits are those that the session states, in the unit and the direction of the export", async () => {
  const limited = async (column: string): Promise<unknown> =>
    (await columnsOf(`session: a\nsources: a.csv\ncolumns: { offline: ${column} }\nplausible: { offline: [-10 m, 20 m] }\n`, "Side\n1.5\n"))[0]!.datatype;
  expect(await limited("{ from: Side, unit: m, positive: right }")).toEqual({ base: "number", minimum: -10, maximum: 20 });
  expect(await limited("{ from: Side, unit: m, positive: left }")).toEqual({ base: "number", minimum: -20, maximum: 10 });
  expect(await limited("{ from: Side, unit: ft, positive: right }")).toEqual({ base: "number", minimum: -32.8083989501, maximum: 65.6167979003 });
  expect((await columnsOf("session: a\nsources: a.csv\ncolumns: { offline: { from: Side, unit: m, sides: L/R } }\nplausible: { offline: [-10 m, 20 m] }\n", "Side\n1.5 L\n"))[0]!.datatype).toBe("string");
  expect((await columnsOf("session: a\nsources: a.csv\ncolumns: { carry: { from: Carry, unit: yd } }\n", "Carry\n150\n"))[0]!.datatype).toBe("integer");
});

test("names keep to the standard's characters and are distinct, titles are the headers as they stand", async () => {
  const columns = await columnsOf("session: a\nsources: { file: a.csv, duplicate_headers: number }\n", '_Side (yd),Side,Side,"a.b-c",,\u00e9\n1,2,3,4,5,6\n');
  expect(columns.map(({ name, titles }) => [name, titles])).toEqual([
    ["Side%20%28yd%29", "_Side (yd)"],
    ["Side", "Side"],
    ["Side%20%282%29", "Side"],
    ["a.b%2Dc", "a.b-c"],
    ["column%205", undefined],
    ["%C3%A9", "\u00e9"],
  ]);
});

test("what is corrected or set aside is in the file as it was recorded, which is noted", async () => {
  const json = await describe(`${smallSession("one", "a.csv")}set_aside:\n  - { shot: 4, column: carry, because: a bird }\n`, smallExport);
  expect(json!.tables[0]!.notes?.map((note) => note["dc:description"]["@value"])).toEqual(["The session file sets values aside; this file has the values as they were recorded."]);
});

test("the shot is the key only where each is there once", async () => {
  const keyOf = async (csv: string): Promise<unknown> => (await describe('session: a\nsources: { file: a.csv, order: file }\ncolumns: { shot: "No" }\n', csv))!.tables[0]!.tableSchema.primaryKey;
  expect(await keyOf("No\n1\n2\n")).toBe("shot");
  expect(await keyOf("No\n1\n1\n")).toBeUndefined();
  expect(await keyOf("No,x\n1,a\n,b\n")).toBeUndefined();
  expect(await keyOf("No\n1\nx\n")).toBeUndefined();
});

test("a session that cannot be read, or whose export cannot, has no description", async () => {
  expect(await describe("[", "a\n")).toBeNull();
  expect(await describe("session: a\nsources: b.csv\n", "a\n")).toBeNull();
  expect(await describe(plain, "")).toBeNull();
});

test("whatever the headers and values are, the description keeps the standard's rules", async () => {
  const cell = fc.string({ unit: "binary", maxLength: 8 }).map((text) => `"${text.replaceAll('"', '""')}"`);
  const line = fc.tuple(cell, cell, cell).map((cells) => cells.join(","));
  await fc.assert(
    fc.asyncProperty(fc.array(line, { minLength: 1, maxLength: 4 }), async (lines) => {
      await describe("session: a\nsources: { file: a.csv, delimiter: comma }\n", `${lines.join("\n")}\n`);
    }),
    { seed: 3, numRuns: 150 },
  );
});
