import { existsSync, readFileSync, writeFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { runIn } from "../../support/command-line";
import { smallExport } from "../../support/small-session";
import { tempFolder } from "../../support/temp-folder";

const folderWith = (): string => tempFolder({ ".git/HEAD": "", "small.csv": smallExport });
const settled = {
  hand: "right",
  monitorPlace: "indoor",
  warmUp: "1",
  carryIs: "as played",
  columns: [{ header: "Ball speed", unit: "mph" }, { header: "Carry", unit: "yd" }, { header: "Side", unit: "yd", positive: "right" }],
  heads: [{ name: "Wren", kind: "iron" }, { name: "Heron", kind: "iron", loft: "34 deg" }],
};

test("with open questions nothing is written, and each is said with its key", async () => {
  const folder = folderWith();
  const { code, out } = await runIn(folder, ["new", "small.csv"]);
  expect(code).toBe(1);
  expect(out).toContain("In which unit is Carry? yd, m");
  expect(existsSync(path.join(folder, "small.session.yaml"))).toBe(false);
});

test("answered, it writes a session and a notebook that runs, and neither over what is there", async () => {
  const folder = folderWith();
  writeFileSync(path.join(folder, "answers.json"), JSON.stringify(settled));
  expect(await runIn(folder, ["new", "small.csv", "--answers", "answers.json"])).toMatchObject({ code: 0, out: "", said: expect.stringMatching(/\d+ shots: Wren \d+ in \d+ stints?, Heron \d+ in \d+ stints?\nwrote small\.session\.yaml and small\.shots\.md\n$/u) });
  expect(await runIn(folder, ["run", "small.shots.md"])).toMatchObject({ code: 0 });
  expect(readFileSync(path.join(folder, "small.csv"), "utf8")).toBe(smallExport);
  expect((await runIn(folder, ["new", "small.csv", "--answers", "answers.json"])).said).toContain("is not written over");
});

/** Expects what is said of answers that cannot be read. */
async function checkRefused(answers: unknown, wanted: string): Promise<void> {
  const folder = folderWith();
  writeFileSync(path.join(folder, "answers.json"), JSON.stringify(answers));
  expect(await runIn(folder, ["new", "small.csv", "--answers", "answers.json"])).toMatchObject({ code: 2, said: expect.stringContaining(wanted) });
}

test("an answer of no list is said with what is accepted", () => checkRefused({ hand: "both" }, 'hand is one of right, left, not "both"'));
test("a unit that is none is said at its header", () => checkRefused({ columns: [{ header: "Carry", unit: "furlong" }] }, 'in "columns", at "header": "Carry": "unit" is one of m, yd, ft, mm, cm, in, not "furlong"'));
test("a unit of another quantity is said at its header", () => checkRefused({ columns: [{ header: "Carry", unit: "mph" }] }, 'in, not "mph"'));
test("a shot column that is none is said at its header", () => checkRefused({ columns: [{ header: "Carry", column: "flight" }] }, 'in "columns", at "header": "Carry": "column" is keep or a shot column: session, '));
test("a direction of another column is said at its header", () => checkRefused({ columns: [{ header: "Side", positive: "toe" }] }, 'in "columns", at "header": "Side": "positive" is one of right, left, not "toe"'));
test("a kind of head that is none is said at its name", () => checkRefused({ heads: [{ name: "Wren", kind: "putter" }] }, 'in "heads", at "name": "Wren": "kind" is one of iron, wedge, wood, not "putter"'));

/** The printed answers, with what `change` makes of each question's example. */
function answersFrom(out: string, change: (write: Record<string, unknown>) => Record<string, unknown> = (write) => write): string {
  const printed = JSON.parse(out) as { questions: { write: Record<string, unknown> }[]; answers: Record<string, unknown> };
  const answers = { ...printed.answers };
  for (const { write } of printed.questions) {
    for (const [key, value] of Object.entries(change(write))) {
      if (key !== "columns" && key !== "heads") answers[key] = value;
      else for (const each of value as Record<string, unknown>[]) answers[key] = (answers[key] as Record<string, unknown>[]).map((old) => ((key === "columns" ? old["header"] === each["header"] : old["name"] === each["name"]) ? { ...old, ...each } : old));
    }
  }
  return JSON.stringify({ ...printed, answers });
}

test("what --json prints comes back with each question answered as its example says, and is written", async () => {
  const folder = folderWith();
  const { code, out } = await runIn(folder, ["new", "small.csv", "--json"]);
  expect(code).toBe(1);
  writeFileSync(path.join(folder, "answers.json"), answersFrom(out));
  expect(await runIn(folder, ["new", "small.csv", "--answers", "answers.json", "--name", "Range 1", "--date", "2026-11-20"])).toMatchObject({ code: 0, out: "" });
  expect(readFileSync(path.join(folder, "small.session.yaml"), "utf8")).toMatch(/^session: Range 1\ndate: 2026-11-20\n/u);
});

test("--json writes no file, also where nothing is open", async () => {
  const folder = folderWith();
  writeFileSync(path.join(folder, "answers.json"), JSON.stringify(settled));
  expect(await runIn(folder, ["new", "small.csv", "--answers", "answers.json", "--json"])).toMatchObject({ code: 0, out: expect.stringContaining('"questions": []') });
  expect(existsSync(path.join(folder, "small.session.yaml"))).toBe(false);
});

test("each question is said with where its answer goes", async () => {
  const { out } = await runIn(folderWith(), ["new", "small.csv"]);
  expect(out).toContain('In which unit is Carry? yd, m, ft\n      in "columns", at "header": "Carry": "unit": "yd"\n');
  expect(out).toContain('  Which hand does the player play with? right, left\n      "hand": "right"\n');
});

test("a day that is none is said", async () => {
  expect(await runIn(folderWith(), ["new", "small.csv", "--date", "20.11.2026"])).toMatchObject({ code: 2, said: expect.stringContaining("--date is a day as 2026-03-14") });
});

const oddHeads = smallExport.replace("Club", "Schlaeger; Kopf");

test("a column that may hold the heads is offered, with the entry that says so", async () => {
  const { out } = await runIn(tempFolder({ "odd.csv": oddHeads }), ["new", "odd.csv"]);
  expect(out).toContain('If the column Schlaeger; Kopf does, its shot column is head. column, file, plan\n      "headsFrom": "column", and in "columns", at "header": "Schlaeger; Kopf": "column": "head"\n');
});

test("heads of a column that nothing names are brought in as the examples say", async () => {
  const folder = tempFolder({ "odd.csv": oddHeads });
  writeFileSync(path.join(folder, "answers.json"), answersFrom((await runIn(folder, ["new", "odd.csv", "--json"])).out));
  const { out } = await runIn(folder, ["new", "odd.csv", "--answers", "answers.json", "--json"]);
  writeFileSync(path.join(folder, "answers.json"), answersFrom(out));
  expect(await runIn(folder, ["new", "odd.csv", "--answers", "answers.json"])).toMatchObject({ code: 0 });
  expect(readFileSync(path.join(folder, "odd.session.yaml"), "utf8")).toContain('head: "Schlaeger; Kopf"');
});

test("a column of an unknown name with a unit is asked, and what keep means is said", async () => {
  const { out } = await runIn(tempFolder({ "odd.csv": smallExport.replace("Ball speed", "Ballgeschw. (mph)") }), ["new", "odd.csv"]);
  expect(out).toMatch(/ {2}What does Ballgeschw\. \(mph\) hold\? .*ball_speed.*, keep\n/u);
  expect(out).toContain("\nkeep: stays under its own header\n");
});

test.each([[[]], [["--json"]]])("an export in Latin-1 gives that error alone, with what helps %j", async (more) => {
  const folder = tempFolder({ "odd.csv": Uint8Array.from("Nr;Schläger\n1;Wren\n", (letter) => letter.charCodeAt(0)) });
  const { code, out, said } = await runIn(folder, ["new", "odd.csv", ...more]);
  expect([code, said]).toEqual([1, "odd.csv:1:8: error: this file is not UTF-8 (at byte 7), which cannot be read [csv.encoding]\n    save it as UTF-8, with or without a byte order mark\n"]);
  expect(more.length === 0 ? out : JSON.parse(out)).toEqual(more.length === 0 ? "" : { problems: [expect.objectContaining({ code: "csv.encoding", file: "odd.csv", hint: "save it as UTF-8, with or without a byte order mark" })] });
});

test("--json lists the heads that answers name, with their kind to be filled in", async () => {
  const folder = tempFolder({ "odd.csv": oddHeads });
  const listed = async (answers: unknown): Promise<unknown> => {
    writeFileSync(path.join(folder, "answers.json"), JSON.stringify(answers));
    const { out } = await runIn(folder, ["new", "odd.csv", "--answers", "answers.json", "--json"]);
    return (JSON.parse(out) as { answers: { heads: { name: string; kind: string | null }[] } }).answers.heads.map(({ name, kind }) => [name, kind]);
  };
  expect(await listed({ columns: [{ header: "Schlaeger; Kopf", column: "head" }], headsFrom: "column", heads: [{ name: "Heron", kind: "iron" }] })).toEqual([["Wren", null], ["Heron", "iron"]]);
  expect(await listed({ headsFrom: "plan", plan: "Plover x 12" })).toEqual(expect.arrayContaining([["Plover", null]]));
});
