import { expect, test } from "vitest";
import { findShotLine } from "../../core/find-shot-line";
import { parseNotebook } from "../../core/notebook/parse-notebook";
import { defaultLimits } from "../../core/limits";
import { createEngine } from "../../core/run-notebook";
import { vocabulary } from "../../core/vocabulary";
import { loadSession } from "../../core/session-loader";
import { findColumn, valueAt } from "../../core/table/table";
import { memoryFiles } from "../support/memory-files";
import { notebookText, smallFiles } from "../support/small-session";

const head = "session: two\nsources: [a.csv, b.csv]\ncolumns: { shot: No, head: Head, carry: { from: Carry, unit: yd } }\nheads:\n  Wren: { kind: iron }\n";
const two = {
  "s/two.session.yaml": head,
  "s/a.csv": "No,Head,Carry\n3,Wren,150\n\n1,\"Wren\",151\n",
  "s/b.csv": "No,Head,Carry\n2,Wren,152\n4,Wren,153\n",
};

/** Checks that the line of every shot holds that shot's carry, given how the exports are ordered. */
async function checkLines(order: string, lines: readonly string[]): Promise<void> {
  const files = memoryFiles({ ...two, "s/two.session.yaml": head.replace("[a.csv, b.csv]", `[{ file: a.csv, order: ${order} }, { file: b.csv, order: ${order} }]`) });
  const { table } = await loadSession("s/two.session.yaml", files, { limits: defaultLimits });
  const [shots, carries] = ["shot", "carry"].map((name) => findColumn(table!, name)!);
  const found: string[] = [];
  for (let row = 0; row < table!.rowCount; row++) {
    const at = await findShotLine(files, "s/two.session.yaml", Number(valueAt(shots!, row)));
    const line = two[at!.path as keyof typeof two].split("\n")[at!.line - 1]!;
    expect(line.endsWith(`,${String(valueAt(carries!, row))}`)).toBe(true);
    found.push(`${at!.path} ${at!.line}`);
  }
  expect(found).toEqual(lines);
}

test("a shot is found in its own export at its true line, whatever the hitting order", async () => {
  await checkLines("session shot", ["s/a.csv 4", "s/b.csv 2", "s/a.csv 2", "s/b.csv 3"]);
  await checkLines("shot", ["s/a.csv 4", "s/a.csv 2", "s/b.csv 2", "s/b.csv 3"]);
  await checkLines("file", ["s/a.csv 2", "s/a.csv 4", "s/b.csv 2", "s/b.csv 3"]);
});

test.each([
  ["a shot that is not there", two, "s/two.session.yaml", 9],
  ["a session file that is not there", two, "s/other.session.yaml", 1],
  ["an export that is not there", { "s/two.session.yaml": head, "s/a.csv": two["s/a.csv"] }, "s/two.session.yaml", 1],
  ["an export outside of the root", { ...two, "s/two.session.yaml": head.replace("a.csv", "../../a.csv") }, "s/two.session.yaml", 1],
])("%s has no line", async (_, files, session, shot) => {
  expect(await findShotLine(memoryFiles(files as Record<string, string>), session, shot)).toBeNull();
});

test("what a line was read from has the digests that a result knows its inputs by, until an export changes", async () => {
  const files = memoryFiles(smallFiles);
  const engine = createEngine({ files, vocabulary, limits: defaultLimits, clock: () => 0 });
  const outcome = await engine.run(parseNotebook(notebookText("shots: s/one.session.yaml", "query=a\nshots")).value, "n.shots.md", {});
  const basis = outcome.cells.find((cell) => cell.name === "a")!.basis;
  const changed = async (): Promise<readonly string[]> => {
    const found = await findShotLine(files, "s/one.session.yaml", 1);
    return found!.inputs.filter(({ path, digest }) => basis[path] !== digest).map(({ path }) => path);
  };
  expect(await changed()).toEqual([]);
  files.put("s/small.csv", `${smallFiles["s/small.csv"]!}\n`);
  expect(await changed()).toEqual(["s/small.csv"]);
});
