import { symlinkSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { repository, runIn } from "../../support/command-line";
import { notebookText, smallExport, smallSession } from "../../support/small-session";
import { tempFolder } from "../../support/temp-folder";

const samples = path.resolve(import.meta.dirname, "../../../sample-notebooks");
const clean = notebookText("shots: s/one.session.yaml", "query=a\nshots.count()");
const broken = notebookText("shots: s/one.session.yaml", "query=a\nshots.filter(d => d.cary > 1)");

/** Expects the exit code and what is said: places, severities and codes, without sentences and hints. */
async function checkSaid(folder: string, given: readonly string[], code: number, expected: readonly string[]): Promise<void> {
  const finished = await runIn(folder, ["check", ...given]);
  const said = finished.said.split("\n").filter((line) => line !== "" && !line.startsWith("    "));
  const short = said.map((line) => line.replace(/: (error|warning|info): .* \[/u, " $1 ["));
  expect([finished.code, finished.out, short]).toEqual([code, "", expected]);
}

test("the samples are clean", async () => {
  const { code, out, said } = await runIn(samples, ["check", "."]);
  expect([code, out]).toEqual([0, ""]);
  expect(said).toContain("8 files checked; 0 errors, 0 warnings");
});

test("a notebook is checked with its session, and a session alone", async () => {
  const folder = repository({ "n.shots.md": broken, "s/small.csv": smallExport.replace("150.0", "far") });
  const far = "s/small.csv:2:14 error [value.not-a-number]";
  await checkSaid(folder, ["n.shots.md"], 1, ["n.shots.md:6:21 error [query.unknown-column]", far, "1 file checked; 2 errors, 0 warnings, 0 notes"]);
  await checkSaid(folder, ["s/one.session.yaml"], 1, [far, "1 file checked; 1 error, 0 warnings, 0 notes"]);
});

test("a folder is checked with all below it, sorted; hidden ones and packages are left out", async () => {
  const folder = repository({
    "b.shots.md": broken,
    "a/c.shots.md": broken.replace("s/one", "../s/one"),
    "a/notes.md": "",
    ".hidden/x.shots.md": broken,
    "node_modules/x.shots.md": broken,
  });
  await checkSaid(folder, ["."], 1, [
    "a/c.shots.md:6:21 error [query.unknown-column]",
    "b.shots.md:6:21 error [query.unknown-column]",
    "3 files checked; 2 errors, 0 warnings, 0 notes",
  ]);
});

test("what two notebooks have in common is said once, and a file named twice is checked once", async () => {
  const folder = repository({ "a.shots.md": clean, "b.shots.md": clean, "s/small.csv": smallExport.replace("150.0", "far") });
  await checkSaid(folder, [".", "a.shots.md", "./s"], 1, ["s/small.csv:2:14 error [value.not-a-number]", "3 files checked; 1 error, 0 warnings, 0 notes"]);
});

test("M-07 one notebook that cannot be read leaves the others checked", async () => {
  const folder = repository({ "a.shots.md": Uint8Array.of(0xff), "b.shots.md": clean, "c.shots.md": "---\nfairstrike: 2\n---\n" });
  const { code, said } = await runIn(folder, ["check", "."]);
  expect(code).toBe(1);
  expect(said).toContain("a.shots.md:1:1: error:");
  expect(said).toContain("c.shots.md:2:13: error: this notebook is of format 2");
  expect(said).toContain("4 files checked; 2 errors");
});

test("P-03 links to files are checked, links to folders are not followed", async () => {
  const folder = repository({ "real/a.shots.md": clean.replace("s/one", "../s/one") });
  symlinkSync(".", path.join(folder, "real/loop"));
  symlinkSync("a.shots.md", path.join(folder, "real/b.shots.md"));
  symlinkSync("nothing.shots.md", path.join(folder, "real/c.shots.md"));
  await checkSaid(folder, ["real"], 0, ["2 files checked; 0 errors, 0 warnings, 0 notes"]);
});

test("a session that leads out of its repository is not read", async () => {
  const outside = tempFolder({ "one.session.yaml": smallSession("one"), "small.csv": smallExport });
  const folder = repository({ "n.shots.md": notebookText("shots: t/one.session.yaml", "query=a\nshots") });
  symlinkSync(outside, path.join(folder, "t"));
  const { code, said } = await runIn(folder, ["check", "n.shots.md"]);
  expect(code).toBe(1);
  expect(said).toContain('n.shots.md:2:8: error: "t/one.session.yaml" leads outside the folder that may be read [run.file]');
  expect(said).not.toContain(outside);
});

test("M-01 what is called wrongly is refused with 2", async () => {
  const folder = repository({ "n.md": "", "empty/x": "" });
  for (const [given, words] of [
    [[], "name the files or folders to check"],
    [["gone"], 'there is no "gone"'],
    [["n.md"], '"n.md" is neither a notebook'],
    [["empty"], "there is no notebook (NAME.shots.md) and no session file"],
    [["--all", "."], "--all"],
  ] as const) {
    const finished = await runIn(folder, ["check", ...given]);
    expect([finished.code, finished.out]).toEqual([2, ""]);
    expect(finished.said).toContain(words);
  }
});

test("what no shot has in a choice is said at the value, and a range upside down is an error", async () => {
  const choices = (written: string): string => notebookText(`shots: s/one.session.yaml\nchoose:\n  it: ${written}`, "query=a\nshots.choose()", 'query=b\na.describe({ of: "carry", by: "head" })');
  const folder = repository({ "a.shots.md": choices("{ of: head, is: [Wren, Heronn] }"), "b.shots.md": choices("{ of: carry, from: 160 yd, to: 150 yd }") });
  await checkSaid(folder, ["a.shots.md"], 0, ["a.shots.md:4:30 warning [nb.choice-value]", "1 file checked; 0 errors, 1 warning, 0 notes"]);
  await checkSaid(folder, ["b.shots.md"], 1, ["b.shots.md:4:26 error [nb.value]", "1 file checked; 1 error, 0 warnings, 0 notes"]);
});
