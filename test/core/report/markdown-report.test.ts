import { expect, test } from "vitest";
import { hostileNames, tagsIn } from "../../support/rendered-markdown";
import { reported } from "../../support/reported";
import { notebookText, smallExport, smallFiles, smallSession } from "../../support/small-session";

const front = "title: Two heads\nshots: s/one.session.yaml";
const gap = notebookText(front, 'query=gap\nshots.compare({ of: "carry", by: "head", margin: "3 yd" })');

test("a report is the page's prose, then sentences, table and method of each cell, then where its numbers come from", async () => {
  const text = await reported(`${gap}\n## Read **on**\n`, "markdown");
  const places = ["<!-- Fairstrike report -->", "# Two heads", "> **Synthetic data", "**gap**", "Chart: ", "| ---", "Method: ", "<summary>Query of gap</summary>", "## Read **on**", "## Where the numbers come from", "SHA\\-256"].map((words) => text.indexOf(words.replace("\\-", "-")));
  expect(places).toEqual([...places].sort((a, b) => a - b));
  expect(places[0]).toBe(0);
});

test("a title that the prose has already is not there twice", async () => {
  expect((await reported(`---\n${front}\n---\n\n# Two heads\n`, "markdown")).match(/^# /gmu)).toHaveLength(1);
});

test("a query with fences in it stays in a fence of its own", async () => {
  expect(await reported(notebookText(front, "query=a\nshots // ````"), "markdown")).toContain("`````js\nshots // ````\n`````");
});

test("X-02 names that would be markup are text", async () => {
  const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;
  const rows = smallExport.trimEnd().split("\n").map((line, row) => (row === 0 ? line : line.replace(/Wren|Heron/u, () => quoted(hostileNames[row - 1] ?? ""))));
  const heads = hostileNames.map((name) => `  ${JSON.stringify(name)}: { kind: iron, loft: 34 deg }\n`).join("");
  const files = { "s/one.session.yaml": `${smallSession("one").split("heads:")[0]}heads:\n${heads}`, "s/small.csv": `${rows.join("\n")}\n` };
  const text = await reported(notebookText(front, "query=a\nshots"), "markdown", files);
  const plain = tagsIn(await reported(notebookText(front, "query=a\nshots.filter(d => d.cary > 1)"), "markdown"));
  expect(text).toContain("img src=x onerror=alert(1)");
  expect(tagsIn(text).filter((tag) => tag !== "pre" && tag !== "code" && !plain.includes(tag))).toEqual([]);
  expect(tagsIn(text)).not.toContain("img");
});

test("X-05 the same run gives the same bytes", async () => {
  expect(await reported(gap, "markdown")).toBe(await reported(gap, "markdown"));
});

test("X-10 what has no result says so", async () => {
  const text = await reported(notebookText(front, "query=a\nshots.filter(d => d.cary > 1)", "query=b\na.count()"), "markdown", smallFiles);
  expect(text).toContain("> **2 of 2 cells have no result:** a, b");
  expect(text).toContain("**a** – failed, no result");
});

test("every cell says what is chosen, and the choices are listed where the numbers come from", async () => {
  const text = await reported(notebookText(`${front}\nchoose:\n  head: { of: head, is: Wren }\n  window: { of: carry, from: 150 yd }`, "query=near\nshots.choose()", "query=n\nnear.count()"), "markdown");
  expect(text).toContain("**near**\n\nChosen: head = Wren; window (carry) = from 150 yd\n\n");
  expect(text).toContain("**n**\n\nChosen in the cells it uses: head = Wren; window (carry) = from 150 yd\n\n");
  expect(text).toContain("### Choices\n\n| Choice | Column | Chosen | Used in |\n| --- | --- | --- | --- |\n| head | head | Wren | near |\n| window | carry | from 150 yd | near |");
});

test("X-02 what is chosen is text and no markup", async () => {
  const given = (value: string): Promise<string> => reported(notebookText(`${front}\nchoose:\n  head: { of: head, is: ${JSON.stringify(value)} }`, "query=a\nshots.choose()"), "markdown");
  const plain = tagsIn(await given("Plover"));
  for (const name of hostileNames) expect(tagsIn(await given(name)).filter((tag) => !plain.includes(tag)), name).toEqual([]);
});
