import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { runIn } from "../../support/command-line";
import { tempFolder } from "../../support/temp-folder";

const samples = path.resolve(import.meta.dirname, "../../../sample-notebooks/sessions");
const text = (name: string): string => readFileSync(path.join(samples, name), "utf8");
const session = "s/summer-net-1.session.yaml";

/** A repository with the sample session in which nothing is set aside. */
function netFolder(change: (text: string) => string = (same) => same): string {
  return tempFolder({ ".git/HEAD": "", [session]: change(text("summer-net-1.session.yaml")), "s/summer-net-1.tsv": text("summer-net-1.tsv") });
}

const sessionIn = (folder: string): string => readFileSync(path.join(folder, session), "utf8");

/** The doubtful values that a call lists as JSON: `shot column state`. */
async function listed(folder: string, more: readonly string[] = []): Promise<readonly string[]> {
  const { out } = await runIn(folder, ["suspects", session, "--json", "-", ...more]);
  const { result } = JSON.parse(out) as { result: { columns: readonly { name: string }[]; rows: readonly (readonly unknown[])[] } };
  const at = (name: string): number => result.columns.findIndex((column) => column.name === name);
  return result.rows.map((row) => `${String(row[at("shot")])} ${String(row[at("column")])} ${String(row[at("state")])}`);
}

test("doubtful values are listed with exit code 1, and nothing is written", async () => {
  const folder = netFolder();
  const { code, out } = await runIn(folder, ["suspects", session]);
  expect(code).toBe(1);
  expect(out).toContain("club_speed");
  expect(out).toContain("Method: ");
  expect(sessionIn(folder)).toBe(text("summer-net-1.session.yaml"));
  expect((await listed(folder, ["--doubt", "strong"])).length).toBeLessThan((await listed(folder)).length);
});

test("what a person chooses is set aside with the reason, and a second run has nothing more to write", async () => {
  const folder = netFolder();
  const before = sessionIn(folder);
  const chosen = (await listed(folder)).filter((each) => each.endsWith(" club_speed suspect"));
  expect(chosen.length).toBeGreaterThan(1);
  const because = "the ball was no faster";
  const first = await runIn(folder, ["suspects", session, "--write", "--column", "club_speed", "--because", because]);
  expect(first.said).toContain(`Set aside ${chosen.length} values in summer-net-1.session.yaml`);
  expect(first.code).toBe(1);
  const after = sessionIn(folder);
  expect(after.split("\n").filter((line) => !before.split("\n").includes(line)).join("\n")).toContain(because);
  expect((await listed(folder)).filter((each) => each.endsWith(" club_speed set aside"))).toHaveLength(chosen.length);
  const again = await runIn(folder, ["suspects", session, "--write", "--column", "club_speed", "--because", because]);
  expect(again.said).toContain("Nothing to set aside");
  expect(sessionIn(folder)).toBe(after);
  expect(readFileSync(path.join(folder, "s/summer-net-1.tsv"), "utf8")).toBe(text("summer-net-1.tsv"));
});

test("without a reason of the person's own the evidence is written, and line ends are kept", async () => {
  const folder = netFolder((lf) => lf.replaceAll("\n", "\r\n"));
  const [first = ""] = await listed(folder);
  const [shot = "", column = ""] = first.split(" ");
  const { said } = await runIn(folder, ["suspects", session, "--write", "--shots", shot, "--column", column]);
  expect(said).toContain("Set aside 1 value in");
  const after = sessionIn(folder);
  expect(after.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
  expect(after).toMatch(new RegExp(`shot: ${shot}, column: ${column}, because: .{20}`));
});

test("everything that is listed can be set aside, and the session is clean then", async () => {
  const folder = netFolder();
  const { code } = await runIn(folder, ["suspects", session, "--write"]);
  expect(code).toBe((await listed(folder)).some((each) => each.endsWith("suspect")) ? 1 : 0);
  expect((await runIn(folder, ["check", session])).code).toBe(0);
  expect(sessionIn(folder).split("\n").filter((line) => line.includes("shot: 79,"))).toHaveLength(1);
});

test("what is called wrongly is refused with 2, and nothing is written", async () => {
  const folder = netFolder();
  for (const [given, words] of [
    [[], "name a session file"],
    [["s/summer-net-1.tsv"], "is no session file"],
    [["s/none.session.yaml"], "there is no file"],
    [[session, "--shots", "4"], "choose what --write sets aside"],
    [[session, "--write", "--shots", "4-2"], "--shots are numbers and ranges"],
    [[session, "--write", "--column", "zone"], "--column is one of"],
    [[session, "--write", "--because", " "], "--because is a reason"],
    [[session, "--doubt", "weak"], "--doubt"],
  ] as const) {
    const { code, out, said } = await runIn(folder, ["suspects", ...given]);
    expect([code, out], said).toEqual([2, ""]);
    expect(said).toContain(words);
  }
  expect(sessionIn(folder)).toBe(text("summer-net-1.session.yaml"));
});

test("a session with errors is not written to: it is not sure which shots are meant", async () => {
  const folder = netFolder((whole) => `${whole}\ncorrections:\n  - { shots: 5000, column: head, value: Wren, because: x }\n`);
  const before = sessionIn(folder);
  const { code, said } = await runIn(folder, ["suspects", session, "--write"]);
  expect(code, said).toBe(2);
  expect(sessionIn(folder)).toBe(before);
});
