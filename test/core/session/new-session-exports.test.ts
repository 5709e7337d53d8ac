import { expect, test } from "vitest";
import { openQuestions, type SessionAnswers } from "../../../core/session/new-session";
import { findColumn, valueAt } from "../../../core/table/table";
import { answered, checkLoads, exportOf, proposedFrom } from "../../support/new-session";
import { smallExport } from "../../support/small-session";

/** Expects what the column under a header is told to be, its unit, its sides and how sure that is. */
function checkTold(text: string, header: string, wanted: string): void {
  const found = proposedFrom(text).columns.find((column) => column.header === header);
  expect(found === undefined ? "none" : `${found.column ?? "?"} ${found.unit ?? "?"} ${found.sides ?? "-"} ${found.certainty}`).toBe(wanted);
}

/** Expects the values of a column of the session that an export makes, in hitting order, once its questions are answered. */
function checkValues(texts: string | Readonly<Record<string, string>>, column: string, wanted: readonly unknown[], given: Partial<SessionAnswers> = {}): void {
  const exports = typeof texts === "string" ? [exportOf(texts)] : Object.entries(texts).map(([file, text]) => exportOf(text, file));
  const { table } = checkLoads(exports, given);
  const found = findColumn(table, column);
  expect(found === undefined ? "no such column" : Array.from({ length: table.rowCount }, (_, row) => valueAt(found, row))).toEqual(wanted);
}

/** Expects the codes of what is asked, with answers to all but these. */
function checkAsked(text: string, given: Partial<SessionAnswers>, ...codes: readonly string[]): void {
  const proposal = proposedFrom(text);
  expect(openQuestions(proposal, { ...answered(proposal), ...given }).map(({ code }) => code)).toEqual(codes);
}

const lines = (...rows: readonly string[]): string => `${rows.join("\n")}\n`;
const five = smallExport.split("\n").slice(0, 6);
const aside = (...values: readonly string[]): string => lines("No;Seite [m]", ...values.map((value, row) => `${row + 1};${value}`));

test("distances that are plausible in yards and metres are asked", () => checkTold(smallExport, "Carry", "carry ? - ask"));
test("five rows tell the unit where the header does", () => checkTold(lines(...five).replace("Carry", "Carry [m]"), "Carry [m]", "carry m - sure"));
test("five rows make a session", () => checkValues(lines(...five), "head", ["Wren", "Wren", "Wren", "Heron", "Heron"]));
test("a single shot makes a session", () => checkValues(lines(...five.slice(0, 2)), "shot", [1]));
test("a header below other lines is found", () => checkValues(`Bay 2\nMade for a test\n\n${lines(...five)}`, "shot", [1, 2, 3, 4, 5]));
test("a header below lines with delimiters is found", () => checkTold(`Bay,2\nPlace,Net\n\n${lines(...five)}`, "Club", "head ? - sure"));
test("a column without a value is kept", () => checkTold(lines("No,Club,Carry [yd]", "1,Wren,", "2,Wren,"), "Carry [yd]", "keep ? - likely"));
test("a column of dashes is kept", () => checkTold(lines("No,Club,Carry [yd]", "1,Wren,--", "2,Wren,--"), "Carry [yd]", "keep ? - likely"));
test("columns of which no value is there make a session", () => checkValues(lines("No,Club,Carry [yd],Side", "1,Wren,,-", "2,Heron,,-"), "shot", [1, 2]));

test("letters of English words are sides", () => checkTold(aside("1 L", "2 R", "0"), "Seite [m]", "offline m L/R sure"));
test("one English letter alone is a side", () => checkTold(aside("1 R", "2 R"), "Seite [m]", "offline m L/R sure"));
test("letters of German words are sides", () => checkValues(aside("1 L", "2 R"), "offline", [-1, 2]));
test("German words are sides", () => checkValues(aside("1 links", "2 rechts"), "offline", [-1, 2]));
test("letters of Spanish words are sides", () => checkValues(aside("1 I", "2 D"), "offline", [-1, 2]));
test("letters of French words are sides", () => checkValues(aside("1 G", "2 D"), "offline", [-1, 2]));
test("one French letter alone is likely a side", () => checkTold(aside("1 G", "2 G"), "Seite [m]", "offline m G/D likely"));
test("a side may stand before the number", () => checkValues(aside("L 1,5", "R 2,5"), "offline", [-1.5, 2.5]));
test("toe and heel in German are sides of the strike", () => checkValues(lines("No;Treffpunkt x [mm]", "1;4 S", "2;3 F"), "strike_x", [4, -3], { headsFrom: "plan", plan: "Wren x 2" }));
test("letters of left and right under words that say no column are sides of what it may be", () => {
  const { columns, sides } = proposedFrom(lines("No;Weg [deg]", "1;4 G", "2;3 G")).columns[1]!;
  expect([sides, columns.includes("club_path"), columns.includes("angle_of_attack")]).toEqual(["G/D", true, false]);
});
test("letters of left and right do not tell toe from heel", () => checkTold(lines("No;Face x [mm]", "1;4 L", "2;3 R"), "Face x [mm]", "? ? L/R ask"));
test("left and right answered to be toe and heel are asked again", () => {
  const text = lines("No;Face x [mm]", "1;4 L", "2;3 R");
  const { columns } = answered(proposedFrom(text));
  checkAsked(text, { columns: columns.map((each) => (each.header === "No" ? each : { ...each, column: "strike_x", unit: "mm" })) }, "column");
});

const semicolons = lines("Nr;Kopf;Carry [m]", "1;Wren;140,5", "2;Heron;141,5");
test("exports with two delimiters and decimal marks are read each in its own way", () => checkValues({ "a.csv": semicolons, "b.csv": lines("Nr,Kopf,Carry [m]", "3,Wren,142.5", "4,Heron,143.5") }, "carry", [140.5, 141.5, 142.5, 143.5]));
test("one file a head has its head from the file", () => checkValues({ "a.csv": lines("No,Carry [m]", "1,140"), "b.csv": lines("No,Carry [m]", "1,141") }, "head", ["Wren", "Heron"], { headsFrom: "file", fileHeads: { "a.csv": "Wren", "b.csv": "Heron" } }));
test("shots are in the order of their times", () => checkValues(lines("Uhrzeit,Kopf,Carry [m]", "10:03:00,Wren,140", "10:01:00,Heron,141", "10:02:00,Wren,142"), "carry", [141, 142, 140]));
test("files are in one order by their times", () => checkValues({ "a.csv": lines("Uhrzeit,Kopf,Carry [m]", "10:03:00,Wren,140"), "b.csv": lines("Uhrzeit,Kopf,Carry [m]", "10:01:00,Heron,141") }, "carry", [141, 140]));
test("warm-up shots have their intent", () => checkValues(smallExport, "intent", "111000000001".split("").map((one) => (one === "1" ? "warm-up" : "stock")), { warmUp: "1-3, 12" }));
test("shaped shots have their intent", () => checkValues(lines(...five), "intent", ["stock", "draw", "draw", "stock", "low"], { shaped: [{ shots: "2-3", value: "draw" }, { shots: "5", value: "low" }] }));
test("a wrong head in the export is corrected", () => checkValues(lines(...five), "head", ["Wren", "Wren", "Heron", "Heron", "Plover"], { wrongHeads: [{ shots: "3", value: "Heron" }, { shots: "5", value: "Plover" }] }));
test.each([["words", ["later", "soon"]], ["a clock of 12 hours past noon", ["12:58", "1:01"]], ["dates in part", ["2026-03-14 10:00", "10:02"]]])("times that are %s leave the order to be asked", (_, times) => {
  expect(proposedFrom(lines("Uhrzeit,Kopf,Carry [m]", ...times.map((time) => `${time},Wren,140`))).order).toBeNull();
});

/** Expects lines of the session file that an export makes. */
function checkWritten(text: string, ...wanted: readonly string[]): void {
  const { text: session } = checkLoads([exportOf(text)]);
  for (const line of wanted) expect(session.split("\n").map((each) => each.trim())).toContain(line);
  expect(checkLoads([exportOf(text)]).text).toBe(session);
}

test("what is to be filled in later is a comment", () => checkWritten(lines(...five), "# date: YYYY-MM-DD", "# air: { temperature: …, pressure: …, humidity: … }", "Wren: { kind: iron }  # loft to be filled in"));
test("a unit that was assumed is said beside it", () => checkWritten(lines("No,Club,Launch angle,Carry [yd]", "1,Wren,18.1,150"), "launch_angle: { from: Launch angle, unit: deg, positive: up }  # unit assumed", 'carry: { from: "Carry [yd]", unit: yd }'));
test("a direction that was assumed is said beside it", () => checkWritten(lines("No,Club,Attack [deg]", "1,Wren,-3.1", "2,Wren,-4"), 'angle_of_attack: { from: "Attack [deg]", unit: deg, positive: up }  # direction assumed'));

/** Expects what the starter notebook's front matter says of units and margins, its lines parted by bars. */
function checkUnits(header: string, row: string, wanted: string, given: Partial<SessionAnswers> = {}): void {
  const { notebook } = checkLoads([exportOf(lines(header, row))], given);
  expect([...notebook.matchAll(/^(?:units|margin): .*$/gmu)].map(([line]) => line).join("|")).toBe(wanted);
}

test("metres and km/h make a notebook in them", () => checkUnits("No,Club,Carry [m],Ball speed [km/h]", "1,Wren,140,182", "units: m-kmh|margin: { carry: 3 m }"));
test("metres and m/s make a notebook in them", () => checkUnits("No,Club,Carry [m],Ball speed [m/s]", "1,Wren,140,50", "units: m-ms|margin: { carry: 3 m }"));
test("metres alone make a notebook in them", () => checkUnits("No,Club,Carry [m]", "1,Wren,140", "units: m-kmh|margin: { carry: 3 m }"));
test("speeds alone have no margin in metres", () => checkUnits("No,Club,Ball speed [m/s]", "1,Wren,50", "units: m-ms"));
test("metres beside mph make a notebook in the usual units", () => checkUnits("No,Club,Carry [m],Ball speed [mph]", "1,Wren,140,113", ""));
test("a height in feet makes a notebook in the usual units", () => checkUnits("No,Club,Carry [m],Height [ft]", "1,Wren,140,80", ""));
test("a kept column in yards makes a notebook in the usual units", () => checkUnits("No,Club,Carry [m],Far post [yd]", "1,Wren,140,9000", ""));
test("angles alone make a notebook in the usual units", () => checkUnits("No,Club,Launch [deg]", "1,Wren,18", ""));
test("metres that were answered make a notebook in them", () => {
  const { columns } = answered(proposedFrom(lines("No,Club,Carry", "1,Wren,140")));
  checkUnits("No,Club,Carry", "1,Wren,140", "units: m-kmh|margin: { carry: 3 m }", { columns: columns.map((each) => (each.header === "Carry" ? { ...each, unit: "m" } : each)) });
});
