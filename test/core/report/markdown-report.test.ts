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
