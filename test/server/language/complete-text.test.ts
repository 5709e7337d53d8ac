import * as fc from "fast-check";
import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { parseNotebook } from "../../../core/notebook/parse-notebook";
import { createEngine } from "../../../core/run-notebook";
import { vocabulary } from "../../../core/vocabulary";
import { completeText } from "../../../server/language/complete-text";
import { makeView } from "../../../server/language/make-view";
import { memoryFiles } from "../../support/memory-files";
import { atMark } from "../../support/notebook-view";
import { smallFiles } from "../../support/small-session";

const front = "---\nshots: s/one.session.yaml\n---\n\n";

async function offered(marked: string) {
  const { text, offset } = atMark(marked);
  const port = memoryFiles(smallFiles);
  const engine = createEngine({ files: port, vocabulary, limits: defaultLimits, clock: () => 0 });
  const { value: document } = parseNotebook(text);
  const parts = { vocabulary, limits: defaultLimits, listFolder: async (folder: string) => (await port.list(folder)) ?? [] };
  const found = await completeText(makeView(document, "n.shots.md", await engine.look(document, "n.shots.md"), parts), text, offset);
  return { text, offset, found, labels: found.map(({ label }) => label) };
}

/** The text after the suggestion with this label was taken, its placeholders as they are. */
async function taken(marked: string, label: string): Promise<string> {
  const { text, found } = await offered(marked);
  const { insert, replace } = found.find((each) => each.label === label)!;
  return text.slice(0, replace.from) + insert.replace(/\$\{\d+:([^}]*)\}/gu, "$1").replace(/\$\d+/gu, "") + text.slice(replace.to);
}

test("an empty notebook can begin with front matter and a query", async () => {
  for (const marked of ["¦", "not¦\n", "--¦", "\n¦\n"]) expect((await offered(marked)).labels, marked).toEqual(["notebook", "---"]);
  const { value, problems } = parseNotebook(await taken("--¦", "notebook"));
  expect([problems, value.cells.map(({ kind }) => kind)]).toEqual([[], ["front", "query"]]);
});

test("keys and values of front matter are offered before it is closed", async () => {
  expect((await offered("---\n¦")).labels).toEqual(expect.arrayContaining(["shots", "units"]));
  expect(await taken("---\nfairstrike: 1\nun¦\n\n```js query=a\nshots\n```\n", "units")).toContain("---\nfairstrike: 1\nunits: yd-mph\n\n");
  expect(await taken("---\nshots: s/¦\n", "s/one.session.yaml")).toBe("---\nshots: s/one.session.yaml\n");
  for (const none of ["---\n\nPro¦", "Pro¦", `${front}Pro¦`, "---\n```\n¦"]) expect((await offered(none)).labels, none).toEqual([]);
});

test("a first line is offered behind a fence", async () => {
  expect((await offered(`${front}\`\`\`js ¦`)).labels).toEqual(["query=", "chart="]);
  expect(await taken(`${front}~~~js q¦\n~~~\n`, "query=")).toBe(`${front}~~~js query=cell_1\n~~~\n`);
  expect((await taken(`${front}\`\`\`json ¦\n\`\`\``, "chart=")).slice(front.length)).toBe('```json chart=chart_1 table=shots description=""\n```');
  for (const none of ["```¦", "```j¦s ", "```js¦"]) expect((await offered(front + none)).labels, none).toEqual([]);
});

test("the last line of a cell that is not closed can be written", async () => {
  expect((await offered(`${front}\`\`\`js query=a\n¦`)).labels).toEqual(expect.arrayContaining(["shots", "compare carry by head"]));
  expect((await offered(`${front}\`\`\`js query=a\nshots\n  .filter(d => d.\n¦`)).labels).toContain("carry");
  expect((await offered(`${front}\`\`\`js query=a\nshots\n\`\`\`\n¦`)).labels).toEqual([]);
  expect((await offered(`${front}\`\`\`json chart=a table=shots\n¦`)).labels.length).toBeGreaterThan(0);
});

test("any place of any cut text has suggestions around it, or none", async () => {
  const whole = `${front}Words\n\n\`\`\`js query=a\nshots.filter(d => d.carry > 150)\n\`\`\`\n\n  ~~~json chart=b table=a\n{ }\n~~~\n`;
  await fc.assert(
    fc.asyncProperty(fc.nat(whole.length), fc.nat(whole.length), async (end, place) => {
      const text = whole.slice(0, end);
      const { found, offset } = await offered(`${text.slice(0, place)}¦${text.slice(place)}`);
      for (const { replace } of found) expect(replace.from <= offset && offset <= replace.to && replace.to <= text.length).toBe(true);
    }),
    { seed: 5, numRuns: 60 },
  );
});
