import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { runIn } from "../../support/command-line";
import { tempFolder } from "../../support/temp-folder";

test("asked for help it gives the commands and the exit codes on standard output", async () => {
  for (const given of [["--help"], ["-h"], ["help"]]) {
    const { code, out, said } = await runIn(tempFolder(), given);
    expect([code, said]).toEqual([0, ""]);
    expect(out).toContain("fairstrike run NOTEBOOK");
    expect(out).toContain("fairstrike check PATH");
    expect(out).toContain("0 clean, 1 problems found, 2 wrong usage, 3 internal error, 130 or 143 interrupted");
  }
});

test("asked for the help of a command it gives that", async () => {
  const { code, out } = await runIn(tempFolder(), ["run", "--help"]);
  expect([code, out]).toEqual([0, expect.stringContaining("usage: fairstrike run NOTEBOOK")]);
});

test("M-01 without a command, or with one that is none, it says what there is", async () => {
  expect(await runIn(tempFolder(), [])).toMatchObject({ code: 2, out: "", said: expect.stringContaining("fairstrike run NOTEBOOK") });
  for (const name of ["rum", "constructor", "__proto__"]) {
    const { code, out, said } = await runIn(tempFolder(), [name]);
    expect([code, out]).toEqual([2, ""]);
    expect(said).toContain(`there is no command "${name}"; there are new, run, check`);
  }
});

test("the version is that of the package", async () => {
  const { version } = JSON.parse(readFileSync(path.join(import.meta.dirname, "../../../package.json"), "utf8")) as { version: string };
  expect(await runIn(tempFolder(), ["--version"])).toMatchObject({ code: 0, out: `${version}\n`, said: "" });
});

test("files are named from the working folder, whatever the root is", async () => {
  const folder = tempFolder({ ".git/HEAD": "", "a/n.shots.md": "---\nunits: metric\n---\n", "b/x": "" });
  const from = path.join(folder, "b");
  expect((await runIn(from, ["run", "../a/n.shots.md"])).said).toMatch(/^\.\.\/a\/n\.shots\.md:2:8: error/);
  expect((await runIn(from, ["check", "../a"])).said).toMatch(/^\.\.\/a\/n\.shots\.md:2:8: error/);
});
