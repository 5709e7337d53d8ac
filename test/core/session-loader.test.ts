import { expect, test } from "vitest";
import type { FilePort } from "../../core/file-port";
import { defaultLimits } from "../../core/limits";
import { createSessionLoader, loadSession, type LoadedSession } from "../../core/session-loader";
import { memoryFiles } from "../support/memory-files";
import { smallExport, smallFiles, smallSession } from "../support/small-session";

const path = "s/one.session.yaml";

/** The session of an export of which so many bytes are read. */
function loadPart(text: string, exportBytes: number, session = smallSession("one")): Promise<LoadedSession> {
  return loadSession(path, memoryFiles({ [path]: session, "s/small.csv": text }), { limits: defaultLimits, exportBytes });
}

function codesOf(session: LoadedSession): readonly string[] {
  return session.problems.map((found) => found.code);
}

/** The code of what is wrong, with what it says of the part that was read. */
async function partOf(text: string, exportBytes: number): Promise<unknown> {
  const { problems } = await loadPart(text, exportBytes);
  return problems.find((found) => found.code === "csv.checked-in-part")?.facts ?? null;
}

test("a session tells the headers of its exports, where they stand, and a few different values of each", async () => {
  const text = smallExport.replace("150.0", "").replace("No,Club", 'No,"Club"');
  const { exports } = await loadSession(path, memoryFiles({ ...smallFiles, "s/small.csv": text, [path]: smallSession("one").replace("unit: mph }", "unit: mph }\n  total: Total") }), { limits: defaultLimits });
  expect(exports).toMatchObject([{ path: "s/small.csv", rowCount: 12 }]);
  expect(exports[0]!.headers.map(({ name, values }) => [name, ...values])).toEqual([
    ["No", "1", "2", "3", "4", "5"],
    ["Club", "Wren", "Heron"],
    ["Ball speed", "112.0", "113.0", "111.0", "116.0", "115.0"],
    ["Carry", "152.0", "149.0", "158.0", "157.0", "161.0"],
    ["Side", "-3.0", "1.0", "4.0", "-2.0", "0.5"],
  ]);
  expect(exports[0]!.headers[1]!.range).toEqual({ start: { line: 1, column: 4 }, end: { line: 1, column: 10 } });
  expect(exports[0]).not.toHaveProperty("isPart");
});

test("exports that cannot be read have no profile, and a value too long to be shown is left out", async () => {
  const load = (files: Readonly<Record<string, string>>): Promise<LoadedSession> => loadSession(path, memoryFiles(files), { limits: defaultLimits });
  expect((await load({ [path]: smallSession("one") })).exports).toEqual([]);
  expect((await load({})).exports).toEqual([]);
  const { exports } = await load({ ...smallFiles, "s/small.csv": smallExport.replace("Wren", "W".repeat(81)) });
  expect(exports[0]!.headers[1]!.values).toEqual(["Wren", "Heron"]);
});

test("L-06 a long export is checked up to its last whole line, and says which part that is", async () => {
  const session = await loadPart(smallExport, 100);
  expect(session.problems).toMatchObject([{ code: "csv.checked-in-part", severity: "info", file: "s/small.csv", range: { start: { line: 1, column: 1 } } }]);
  // Header and three rows have 30, 24, 23 and 23 bytes.
  expect(session.problems[0]!.facts).toEqual({ lines: 4, read: "0.0", of: "0.0" });
  expect([session.table!.rowCount, session.exports[0]!.rowCount, session.exports[0]!.isPart]).toEqual([3, 3, true]);
});

test("megabytes are said with one decimal", async () => {
  const row = "1,Wren,112.0,150.0,-3.0\n";
  const text = `${smallExport.split("\n")[0]!}\n${row.repeat(100_000)}`;
  // (1 500 000 − 30) / 24 rows are whole, beside the header.
  expect(await partOf(text, 1_500_000)).toEqual({ lines: 62_499, read: "1.5", of: "2.4" });
});

test("an export that is as long as may be read, or shorter, is read whole", async () => {
  for (const more of [0, 1]) expect(await partOf(smallExport, smallExport.length + more)).toBeNull();
  expect(await partOf(smallExport, smallExport.length - 1)).not.toBeNull();
});

test("a row that is cut in a quoted line end, in a character or between CR and LF is left out or whole", async () => {
  const quoted = smallExport.replace("3,Wren", '3,"Wr\nen"');
  const cut = quoted.indexOf('\nen"') + 1;
  expect(await partOf(quoted, cut)).toMatchObject({ lines: 3 });
  const accented = smallExport.replace("3,Wren", "3,Wrén");
  const inside = new TextEncoder().encode(accented.slice(0, accented.indexOf("é"))).length + 1;
  expect(codesOf(await loadPart(accented, inside))).toEqual(["csv.checked-in-part"]);
  const crlf = smallExport.replaceAll("\n", "\r\n");
  const afterCr = crlf.indexOf("\r", 40) + 1;
  expect(await partOf(crlf, afterCr)).toMatchObject({ lines: 2 });
});

test("a header that is not whole is no header", async () => {
  const session = await loadPart(smallExport, 10);
  expect([session.table, session.exports[0]!.headers, codesOf(session)]).toEqual([null, [], ["csv.checked-in-part"]]);
  expect(session.problems[0]!.message).toContain("no line ends");
});

test("what only the whole of an export can justify is not said of a part", async () => {
  const stated = `${smallSession("one")}  Plover: { kind: iron }\nset_aside: [{ shot: 11, column: carry, because: a reason }]\n`;
  const text = smallExport.replace("2,Wren", "\n,,,,\n2,Wren");
  const whole = await loadPart(text, 1e6, stated);
  expect(codesOf(whole)).toEqual(expect.arrayContaining(["csv.blank-lines", "csv.blank-rows", "session.head-not-hit"]));
  expect(codesOf(await loadPart(text, 120, stated))).toEqual(["csv.checked-in-part"]);
});

test("what is wrong in the part is said, each at its place", async () => {
  const { problems } = await loadPart(smallExport.replace("149.0", "far"), 120);
  expect(problems.map(({ code, range: { start } }) => `${code} ${start.line}:${start.column}`)).toEqual(["csv.checked-in-part 1:1", "value.not-a-number 4:14"]);
});

test("what is said of any part is said of the whole", async () => {
  const text = smallExport.replace("149.0", "far").replace("5,Heron", "5,Kite").replace("116.5", "1165").replace("11,Heron", "10,Heron").replace("8,Wren,112.5", '8,Wren,"112.5');
  const key = (found: LoadedSession["problems"][number]): string => JSON.stringify([found.code, found.range, found.message]);
  const whole = new Set((await loadPart(text, 1e6)).problems.map(key));
  // A quote that never closes makes all that follows one row that is not whole.
  for (let bytes = smallExport.indexOf("\n") + 1; bytes < text.length; bytes += 7) {
    const said = (await loadPart(text, bytes)).problems.filter((found) => found.code !== "csv.checked-in-part" && !whole.has(key(found)));
    expect(said.map((found) => found.code)).toEqual([]);
  }
});

test("a port is asked for so many bytes of an export, and for all of a session file", async () => {
  const port = memoryFiles(smallFiles);
  const asked: unknown[] = [];
  const files: FilePort = {
    ...port,
    read: (name, most) => {
      asked.push([name, most]);
      return port.read(name).then((read) => (read.ok && most !== undefined ? { ...read, bytes: read.bytes.slice(0, most), size: read.bytes.length } : read));
    },
  };
  const session = await loadSession(path, files, { limits: defaultLimits, exportBytes: 100 });
  expect([asked, codesOf(session)]).toEqual([[[path, undefined], ["s/small.csv", 100]], ["csv.checked-in-part"]]);
  asked.length = 0;
  await createSessionLoader(files, defaultLimits).load(path);
  expect(asked).toEqual([[path, undefined], ["s/small.csv", undefined]]);
});

test("tables of sessions that nobody uses are kept for the last two alone", async () => {
  const names = Array.from({ length: 20 }, (_, i) => `s/day-${i}.session.yaml`);
  const port = memoryFiles({ ...smallFiles, ...Object.fromEntries(names.map((name) => [name, smallSession("day")])) });
  const { load, keepUsed } = createSessionLoader(port, defaultLimits);
  for (const name of names) {
    await load(name);
    keepUsed((each) => each === names[0]);
  }
  const reads = port.reads.length;
  for (const name of [names[0]!, names[18]!, names[19]!]) await load(name);
  expect(port.reads.length).toBe(reads);
  await load(names[17]!);
  expect(port.reads.slice(reads)).toEqual([names[17], "s/small.csv"]);
});

test("a session file with thousands of mistakes lists some of them with their true total", async () => {
  const entries = Array.from({ length: 5000 }, (_, i) => `  cary${i}: 1 yd\n`).join("");
  const { problems, table } = await loadSession(path, memoryFiles({ ...smallFiles, [path]: `${smallSession("one")}\nreading_error:\n${entries}` }), { limits: defaultLimits });
  const own = problems.filter(({ file }) => file === path);
  expect(own).toHaveLength(defaultLimits.problems + 1);
  expect(own.at(-1)).toMatchObject({ code: "yaml.more", facts: { total: 5000, listed: 100 } });
  expect(table!.sessions[0]!.errors).toBeGreaterThanOrEqual(5000);
});

test("an export that is not there: the one beside it that was meant, if the person says so", async () => {
  const fixOf = async (name: string): Promise<unknown> => {
    const { problems } = await loadSession(path, memoryFiles({ ...smallFiles, [path]: smallSession("one").replace("small.csv", name) }), { limits: defaultLimits });
    const found = problems.find(({ code }) => code === "run.file")!;
    return found.fix === undefined ? null : [found.fix.edits[0]!.text, found.fix.byPerson];
  };
  expect(await fixOf("smoll.csv")).toEqual(['"small.csv"', true]);
  expect(await fixOf("small.tsv")).toBeNull();
  expect(await fixOf("other.csv")).toBeNull();
});
