import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { defaultLimits } from "../core/limits";
import { parseNotebook } from "../core/notebook/parse-notebook";
import { plainMarkdown } from "../core/present/prose";
import type { RunOutcome } from "../core/run-notebook";
import { createEngine } from "../core/run-notebook";
import { vocabulary } from "../core/vocabulary";
import { nodeFiles } from "../server/node-files";
import { referenceMarks, referenceText } from "../scripts/reference-text";

const readme = readFileSync(path.join(import.meta.dirname, "../README.md"), "utf8");

test("the README's reference is what the tables in core say: run `npm run reference`", () => {
  const [begin, end] = referenceMarks;
  expect(readme.slice(readme.indexOf(begin) + begin.length, readme.indexOf(end)).trim()).toBe(referenceText());
});

test("every picture of the README is there", () => {
  for (const [, file] of readme.matchAll(/!\[[^\]]*\]\(([^)]+)\)/gu)) expect(() => readFileSync(path.join(import.meta.dirname, "..", file!))).not.toThrow();
  expect(readme).toMatch(/!\[/u);
});

const samples = path.join(import.meta.dirname, "../sample-notebooks");
const front = ["---", "fairstrike: 1", "shots: sessions/spring-bay-1.session.yaml", "units: yd-mph", "margin: { carry: 3 yd, ball_speed: 1 mph }", "seed: 7", "---", ""];

/** What cells give on the shots of the sample. */
async function run(cells: readonly string[]): Promise<RunOutcome> {
  const text = [...front, ...cells.map((cell) => `${cell}\n`)].join("\n");
  const engine = createEngine({ files: nodeFiles(samples, defaultLimits.fileBytes), vocabulary, limits: defaultLimits, clock: () => 0 });
  return engine.run(parseNotebook(text).value, "readme.shots.md");
}

/** The hand-written part of the README below one heading. */
function section(heading: string): string {
  const [, text] = new RegExp(`\\n#+ ${heading}\\n(.*?)\\n#+ `, "su").exec(readme) ?? [];
  if (text === undefined) throw new Error(`no section ${heading}`);
  return text;
}

test("every question has an example that runs on the sample", async () => {
  const examples = [...section("What can be asked").matchAll(/`(shots\.\w+\(.*?\))` \|/gu)].map(([, example]) => example!);
  expect(examples.map((example) => /\w+(?=\()/u.exec(example)![0])).toEqual(["describe", "scorecard", "compare", "spread", "forgiveness", "workability", "drift", "enough", "suspects", "putBack", "standardAir", "loftOnly", "flight"]);
  const { cells } = await run(examples.map((example, i) => `\`\`\`js query=example_${i}\n${example}\n\`\`\``));
  expect(cells.map(({ status, problems }) => [status, problems.filter(({ severity }) => severity !== "info")])).toEqual(examples.map(() => ["ok", []]));
});

test("every verb of the trade is asked a question, and every chart is named", () => {
  const text = section("What can be asked");
  for (const verb of vocabulary.verbs.values()) if (verb.family === "trade") expect(text).toContain(`shots.${verb.name}(`);
  for (const name of vocabulary.charts.keys()) expect(text).toContain(`\`chart.${name}\``);
});

test("the sentences of the comparison are those that the sample gives", async () => {
  const { cells } = await run(["```js query=stock\nshots.filter(d => d.intent === \"stock\")\n```", '```js query=gap\nstock.compare({ of: "carry", by: "head" })\n```']);
  const value = cells[1]!.value;
  const said = value?.type === "table" ? value.report!.sentences.join(" ") : "";
  const [, quoted] = /```text\n(.*?)\n```/su.exec(section("How to read a comparison"))!;
  for (const sentence of quoted!.replaceAll("\n", " ").split(/(?<=\.) (?=[A-Z])/u)) expect(said).toContain(sentence);
});

test("the sentences on misreads are those that the sample session into a net gives", async () => {
  const { cells } = await run(['```js query=doubts\nsession("sessions/summer-net-1.session.yaml").suspects()\n```']);
  const value = cells[0]!.value;
  if (value?.type !== "table") throw new Error("no table of doubts");
  const evidence = value.columns.find(({ name }) => name === "evidence");
  const said = [...value.report!.sentences, ...(evidence?.kind === "text" ? evidence.labels : [])].join(" ");
  const [, quoted] = /```text\n(.*?)\n```/su.exec(section("Misread, or mishit\\?"))!;
  for (const sentence of quoted!.replaceAll("\n", " ").split(/(?<=\.) (?=[A-Z])/u)) expect(said).toContain(sentence);
});

test("one flight is made as the README writes it, in a cell and on the command line", async () => {
  const [, cell] = /```js\n(flight\(.*?)\n```/su.exec(section("Air, loft and flight"))!;
  const { cells } = await run([`\`\`\`js query=one\n${cell!}\n\`\`\``]);
  expect(cells.map(({ status, problems }) => [status, problems])).toEqual([["ok", []]]);
  const written = [...section("Command line").matchAll(/`fairstrike (\w+) ([^`]*)`/gu)].map(([, command, rest]) => [command, rest]);
  const flightOptions = Object.keys(vocabulary.sources.get("flight")!.options);
  for (const [, rest] of written.filter(([command]) => command === "flight")) {
    for (const [, option] of rest!.matchAll(/--([a-z-]+) "/gu)) expect(flightOptions).toContain(option!.replaceAll("-", "_"));
  }
  expect(written.map(([command]) => command)).toEqual(expect.arrayContaining(["suspects", "flight"]));
});

test("the text cell says what the README says of it", async () => {
  const text = section("Text cells");
  const [, cell] = /````markdown\n(.*?)\n````/su.exec(text)!;
  const value = (await run([cell!])).cells[0]!.value;
  const said = value?.type === "text" ? plainMarkdown(value.markdown).split("\n")[0]! : "";
  expect(said).toMatch(/different by more than the margin/u);
  expect(text).toContain(`It says: ${said}`);
});
