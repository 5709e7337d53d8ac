import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import type { Problem, ProblemCode } from "../../../core/problem";
import { createSessionLoader } from "../../../core/session-loader";
import { applyEdits } from "../../../core/session/apply-edits";
import { correctedName } from "../../../core/session/export-fixes";
import { correctedCopy } from "../../../core/table/corrected-copy";
import { encodeUtf8 } from "../../../core/table/utf8";
import { memoryFiles } from "../../support/memory-files";

type Files = Readonly<Record<string, string>>;

const session = "s/a.session.yaml";

async function problemsOf(files: Files): Promise<readonly Problem[]> {
  return (await createSessionLoader(memoryFiles(files), defaultLimits).load(session)).problems;
}

/** The files after a fix: the session edited, and the corrected copy made where one is wanted. */
function fixed(files: Files, found: Problem, problems: readonly Problem[]): Files {
  const { fix } = found;
  expect(fix?.file).toBe(session);
  const after = { ...files, [session]: applyEdits(files[session]!, fix!.edits) };
  if (fix!.copyOf === undefined) return after;
  const { file, reading } = fix!.copyOf;
  return { ...after, [correctedName(file, 1)]: correctedCopy(encodeUtf8(files[file]!), reading, problems)! };
}

const errorsIn = (problems: readonly Problem[]): readonly string[] => problems.filter((each) => each.severity === "error").map(({ code, message }) => `${code} ${message}`);

/** A problem of this code is in the export, its fix removes it, brings no new error, and leaves the export as it is. */
async function checkFix(code: ProblemCode, csv: string, text: string, title: string): Promise<Files> {
  const files = { [session]: text, "s/a.csv": csv };
  const problems = await problemsOf(files);
  const found = problems.find((each) => each.code === code && each.file === "s/a.csv");
  expect(found?.fix?.title, code).toBe(title);
  const after = fixed(files, found!, problems);
  const left = await problemsOf(after);
  expect(left.filter((each) => each.code === code && each.message === found!.message)).toEqual([]);
  expect(errorsIn(left).filter((each) => !errorsIn(problems).includes(each))).toEqual([]);
  expect(after["s/a.csv"]).toBe(csv);
  return after;
}

const plain = "session: a\nsources: { file: a.csv, order: file }\ncolumns:\n  head: Club\n  carry: { from: Carry, unit: yd }\nheads: { Wren: { kind: iron } }\n";

test("how an export is read is stated beside it in the session", async () => {
  await checkFix("csv.short-row", "Club,Carry,Note\nWren,150,x\nWren,151\n", plain, "Read what short rows lack as missing");
  await checkFix("csv.duplicate-header", "Club,Carry,x,x\nWren,150,1,2\n", plain, "Number names that are there twice");
  await checkFix("csv.lines-above-header", "Bay 3\nClub,Carry\nWren,150\nWren,151\n", plain, "Skip 1 line above the header");
  await checkFix("csv.delimiter", "Club;Carry\nWren;150\n", plain, "State that values are separated by semicolons");
  await checkFix("csv.decimal-comma", "Club;Carry\nWren;150,5\n", plain, "State that numbers have a decimal comma");
});

test("what means missing, another name of a head and the sides are stated in the session", async () => {
  await checkFix("value.not-a-number", "Club,Carry\nWren,150\nWren,n/a\n", plain, 'State that "n/a" means missing');
  await checkFix("value.out-of-range", "Club,Carry\nWren,150\nWren,0\n", plain, 'State that "0" means missing in carry');
  await checkFix("session.unknown-head", "Club,Carry\nWren,150\nWern,151\n", plain, 'State that "Wern" is another name of Wren');
  const side = plain.replace("heads:", "  offline: { from: Side, unit: yd }\nheads:");
  await checkFix("value.not-a-number", "Club,Carry,Side\nWren,150,3 L\n", side, "State that the letters L/R tell the side of offline");
});

test("a header that looks like a shot column is mapped", async () => {
  await checkFix("session.not-mapped", "Club,Carry,Launch Angle\nWren,150,17\n", plain, 'Read launch_angle from "Launch Angle"');
  const files = { [session]: plain, "s/a.csv": "Club,Carry,Ball Speed\nWren,150,115\n" };
  expect((await problemsOf(files)).find((each) => each.code === "session.not-mapped")?.fix).toBeUndefined();
});

test("what the session cannot say is mended in a copy to which the session is pointed", async () => {
  const title = 'Use a corrected copy of "a.csv"';
  const after = await checkFix("csv.empty-header", "Club,Carry,\nWren,150,x\n", plain, title);
  expect(after["s/a.corrected.csv"]).toBe("Club,Carry,column 3\nWren,150,x\n");
  expect(after[session]).toContain('file: "a.corrected.csv", order: file');
  await checkFix("csv.bare-quote", 'Club,Carry,Note\nWren,150,5" left\n', plain, title);
  await checkFix("csv.text-after-quote", 'Club,Carry,Note\nWren,150,"5" left\n', plain, title);
  await checkFix("csv.unclosed-quote", 'Club,Carry,Note\nWren,150,"left\n', plain, title);
  await checkFix("csv.invisible-char", "Club,Carry,Note\nWren,150,x\u200b\n", plain, title);
  await checkFix("csv.control-char", "Club,Carry,Note\nWren,150,x\u0001\n", plain, title);
  await checkFix("value.not-a-number", "Club,Carry\nWren,150*\n", plain, title);
});

test("the fixes of an export never edit the export", async () => {
  const files = { [session]: plain, "s/a.csv": 'Club,Carry,,x,x\n\u200bWren,n/a,"q,1\nWren,0\nWern,150*,5" left,1,2\n' };
  const own = (await problemsOf(files)).filter((each) => each.file === "s/a.csv" && each.fix !== undefined);
  expect(own.length).toBeGreaterThan(4);
  for (const { fix } of own) expect(fix?.file).toBe(session);
});

test("a copy has its name beside the export, and a copy of a copy the next number", () => {
  expect(correctedName("data/bay.csv", 1)).toBe("data/bay.corrected.csv");
  expect(correctedName("data/bay.corrected.csv", 2)).toBe("data/bay.corrected-2.csv");
  expect(correctedName("data.x/bay", 3)).toBe("data.x/bay.corrected-3");
});

test("a problem in an export says which session it was read by, and one of the session file does not", async () => {
  const files = { [session]: "session: a\nsources: { file: a.csv, order: file }\ncolumns: { head: Club, carry: { from: Carry, unit: yd } }\nheads: { Wren: { kind: irn } }\n", "s/a.csv": "Club,Carry\nWren,150\nWren,far\n" };
  expect((await problemsOf(files)).map(({ code, file, session: by }) => [code, file, by])).toEqual([["session.wrong-choice", session, undefined], ["value.not-a-number", "s/a.csv", session]]);
});
