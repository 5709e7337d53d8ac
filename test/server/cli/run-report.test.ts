import { existsSync, readFileSync, readdirSync, symlinkSync } from "node:fs";
import path from "node:path";
import { expect, test, vi } from "vitest";
import { repository, runIn } from "../../support/command-line";
import { notebookText, smallFiles } from "../../support/small-session";
import { tempFolder } from "../../support/temp-folder";
import { readXml } from "../../support/well-formed";

const front = "title: Two heads\nshots: s/one.session.yaml";
const clean = notebookText(front, "query=a\nshots", "query=b\na.count()");
const broken = notebookText(front, "query=a\nshots.filter(d => d.cary > 1)");

/** What a file in a folder holds. */
const read = (folder: string, name: string): string => readFileSync(path.join(folder, name), "utf8");

/** Expects a call to be refused as wrong usage, with these words, and nothing new or changed in the folder. */
async function checkUsage(given: readonly string[], words: string, folder = repository({ "n.shots.md": clean })): Promise<void> {
  const before = readdirSync(folder, { recursive: true });
  const finished = await runIn(folder, ["run", "n.shots.md", ...given]);
  expect([finished.code, finished.out]).toEqual([2, ""]);
  expect(finished.said).toContain(words);
  expect(readdirSync(folder, { recursive: true })).toEqual(before);
}

test("--html and --markdown write reports beside what is printed, and write them again", async () => {
  const folder = repository({ "n.shots.md": clean });
  const given = ["run", "n.shots.md", "--html", "r.html", "--markdown", "r.md"];
  const first = await runIn(folder, given);
  expect([first.code, first.out]).toEqual([0, (await runIn(folder, ["run", "n.shots.md"])).out]);
  readXml(read(folder, "r.html"));
  expect(read(folder, "r.md")).toContain("# Two heads");
  const texts = [read(folder, "r.html"), read(folder, "r.md")];
  expect((await runIn(folder, given)).code).toBe(0);
  expect([read(folder, "r.html"), read(folder, "r.md")]).toEqual(texts);
  expect(readdirSync(folder).sort()).toEqual([".git", "n.shots.md", "r.html", "r.md", "s"]);
});

test("- writes a report to standard output, and nothing else there", async () => {
  const { code, out } = await runIn(repository({ "n.shots.md": clean }), ["run", "n.shots.md", "--html", "-"]);
  expect([code, out.startsWith("<!DOCTYPE html>\n"), out.endsWith("</html>\n")]).toEqual([0, true, true]);
});

test("X-05 a report has the same bytes in another folder, time zone and language, and no path of the machine", async () => {
  const folders = [repository({ "n.shots.md": clean }), tempFolder({ "n.shots.md": clean, ...smallFiles })];
  const outs: string[] = [];
  for (const [index, folder] of folders.entries()) {
    vi.stubEnv("TZ", ["Pacific/Apia", "America/Lima"][index]);
    vi.stubEnv("LC_ALL", ["de_DE.UTF-8", "C"][index]);
    outs.push((await runIn(folder, ["run", "n.shots.md", "--html", "-"])).out);
    expect(outs[index]).not.toContain(folder);
  }
  vi.unstubAllEnvs();
  expect(outs[1]).toBe(outs[0]);
});

test("X-07 a report goes into no notebook, no input and no file that is no report", async () => {
  for (const name of ["n.shots.md", "new.shots.md", "s/small.csv", "r.html", "r"]) await checkUsage(["--markdown", name], "name a .md file");
  for (const name of ["r.md", "s/one.session.yaml", "r.json"]) await checkUsage(["--html", name], "name a .html file");
  const folder = repository({ "n.shots.md": clean, "README.md": "# Mine\n", "index.html": "<p>mine</p>" });
  symlinkSync("n.shots.md", path.join(folder, "link.md"));
  for (const [option, name] of [["--markdown", "README.md"], ["--html", "index.html"], ["--markdown", "link.md"]]) await checkUsage([option!, name!], "is no report of this program", folder);
  expect([read(folder, "README.md"), read(folder, "n.shots.md")]).toEqual(["# Mine\n", clean]);
});

test("X-06 a report goes into no folder that is not there, which is said before anything runs", async () => {
  await checkUsage(["--html", "nowhere/r.html"], "there is no folder");
  await checkUsage(["--html", "d.html"], "is not an ordinary file", repository({ "n.shots.md": clean, "d.html/x": "" }));
});

test("M-01 what cannot be had together is refused", async () => {
  await checkUsage(["--html", "r.html", "--cell", "a"], "leave out --cell");
  await checkUsage(["--html", "-", "--json", "-"], "standard output takes one of");
});

test("X-10 a report of cells that failed is written, and the command ends with 1", async () => {
  const folder = repository({ "n.shots.md": broken });
  expect((await runIn(folder, ["run", "n.shots.md", "--html", "r.html"])).code).toBe(1);
  expect(read(folder, "r.html")).toContain("1 of 1 cell has no result:");
});

test("a file that is no notebook inside gives no report", async () => {
  const folder = repository({ "n.shots.md": "---\nfairstrike: 99\n---\n" });
  expect((await runIn(folder, ["run", "n.shots.md", "--html", "r.html"])).code).toBe(1);
  expect(existsSync(path.join(folder, "r.html"))).toBe(false);
});

test("X-05 a report says what is chosen, and the same bytes again", async () => {
  const folder = repository({ "n.shots.md": notebookText(`${front}\nchoose:\n  window: { of: carry, from: 150 yd }`, "query=a\nshots.choose()") });
  for (const option of ["--html", "--markdown"]) {
    const [first, second] = [await runIn(folder, ["run", "n.shots.md", option, "-"]), await runIn(folder, ["run", "n.shots.md", option, "-"])];
    expect(first.out).toContain("Chosen: window (carry) = from 150 yd");
    expect(second.out).toBe(first.out);
  }
});
