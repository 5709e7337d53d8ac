import { existsSync, readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { checkDescription } from "../../../core/session/check-description";
import { repository, runIn } from "../../support/command-line";
import { smallExport, smallSession } from "../../support/small-session";

interface Described {
  readonly tables: readonly { readonly url: string; readonly tableSchema: { readonly columns: readonly { readonly name: string }[] } }[];
}

test("the description goes to standard output, URLs relative to the session", async () => {
  const { code, out, said } = await runIn(repository({}), ["describe-data", "s/one.session.yaml"]);
  expect([code, said]).toEqual([0, "s/one.session.yaml: 0 errors, 0 warnings, 0 notes\n"]);
  const json = JSON.parse(out) as Described;
  expect(checkDescription(json)).toEqual([]);
  expect(json.tables.map(({ url }) => url)).toEqual(["small.csv"]);
  expect(json.tables[0]!.tableSchema.columns.map(({ name }) => name)).toEqual(["shot", "head", "ball_speed", "carry", "offline"]);
  expect((await runIn(repository({}), ["describe-data", "s/one.session.yaml", "--out", "-"])).out).toBe(out);
});

test("into a file it goes with URLs relative to that file, and the export stays as it is", async () => {
  const folder = repository({ "out/x": "", "s/two.session.yaml": smallSession("two", "my data/a b.csv"), "s/my data/a b.csv": smallExport });
  expect(await runIn(folder, ["describe-data", "s/two.session.yaml", "--out", "out/two.json"])).toMatchObject({ code: 0, out: "" });
  const json = JSON.parse(readFileSync(path.join(folder, "out/two.json"), "utf8")) as Described;
  expect(json.tables.map(({ url }) => url)).toEqual(["../s/my%20data/a%20b.csv"]);
  expect(readFileSync(path.join(folder, "s/my data/a b.csv"), "utf8")).toBe(smallExport);
});

test("a session with errors is described as far as it can be, with exit code 1", async () => {
  const folder = repository({ "s/bad.session.yaml": `${smallSession("bad", "small.csv")}plausible: { carry: yes }\n`, "s/none.session.yaml": smallSession("none", "none.csv") });
  const bad = await runIn(folder, ["describe-data", "s/bad.session.yaml"]);
  expect([bad.code, (JSON.parse(bad.out) as Described).tables.length]).toEqual([1, 1]);
  expect(bad.said).toContain("s/bad.session.yaml:");
  const none = await runIn(folder, ["describe-data", "s/none.session.yaml", "--out", "none.json"]);
  expect([none.code, none.out, existsSync(path.join(folder, "none.json"))]).toEqual([1, "", false]);
  expect(none.said).toContain("none.csv");
});

test("M-01 wrong usage says what is accepted, and nothing is written over data", async () => {
  const folder = repository({});
  const usage = async (...given: readonly string[]): Promise<string> => {
    const { code, out, said } = await runIn(folder, ["describe-data", ...given]);
    expect([code, out]).toEqual([2, ""]);
    return said;
  };
  expect(await usage()).toContain("name a session file");
  expect(await usage("s/small.csv")).toContain("would end in .session.yaml");
  expect(await usage("s/no.session.yaml")).toContain("there is no file");
  expect(await usage("s/one.session.yaml", "s/one.session.yaml")).toContain("one session at a time");
  expect(await usage("s/one.session.yaml", "--out", "s/small.csv")).toContain("somebody's input");
  expect(await usage("s/one.session.yaml", "--json", "-")).toContain("usage: fairstrike describe-data SESSION");
});

test("every sample session has a description that keeps the standard's rules", async () => {
  const samples = path.resolve(import.meta.dirname, "../../../sample-notebooks/sessions");
  const sessions = readdirSync(samples).filter((name) => name.endsWith(".session.yaml"));
  expect(sessions.length).toBeGreaterThan(2);
  for (const session of sessions) {
    const { out } = await runIn(samples, ["describe-data", session]);
    expect(checkDescription(JSON.parse(out))).toEqual([]);
  }
});
