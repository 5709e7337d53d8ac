import { expect, test } from "vitest";
import { replaceSpans } from "../../../core/replace-spans";
import { lineTable } from "../../../core/text-position";
import { definitionsAt } from "../../../server/language/definitions";
import { completeNotebook, hoverNotebook } from "../../../server/language/features";
import { referencesAt } from "../../../server/language/references";
import { renameAt } from "../../../server/language/rename";
import { choicesRequest, type ChoicesAnswer } from "../../../server/language/requests";
import { startClient } from "../../support/language-client";
import { atMark, notebookView, smallFront } from "../../support/notebook-view";
import { hostileNames, tagsIn } from "../../support/rendered-markdown";

const front = ["fairstrike-front", "shots: s/one.session.yaml\nchoose:\n  head: { of: head, is: Wren }\n  window: { of: carry, from: 150 yd }\n  what: { among: [carry, offline], is: carry }"] as const;

test("what choices can be is answered from what the sessions hold", async () => {
  const client = await startClient();
  const [uri] = await client.openNotebook([front]);
  const { choices } = await client.connection.sendRequest<ChoicesAnswer>(choicesRequest, { uri });
  expect(choices).toEqual([
    { name: "head", values: ["Heron", "Wren"], range: null, unit: null },
    { name: "window", values: null, range: { low: 149, high: 161 }, unit: "yd" },
    { name: "what", values: ["carry", "offline"], range: null, unit: null },
  ]);
});

/** The labels completed at the end of a cell's text. */
async function checkCompletion(text: string, labels: readonly string[]): Promise<void> {
  const client = await startClient();
  const [, uri] = await client.openNotebook([front, ["fairstrike-query", `query=a\n${text}`]]);
  const answer = await client.connection.sendRequest<{ items: readonly { label: string }[] } | readonly { label: string }[]>("textDocument/completion", { textDocument: { uri }, position: { line: 1, character: text.length } });
  const items = "items" in answer ? answer.items : answer;
  expect(items.map(({ label }) => label)).toEqual(labels);
}

test("the names of choices complete where they can stand", async () => {
  await checkCompletion('shots.choose("', ["head", "window"]);
  await checkCompletion("shots.describe({ of: chosen.", ["what"]);
});

const smallFrontText = `${smallFront[1]}
choose:
  head: { of: head, is: Wren }
  "far": { of: carry, from: 150 yd }
  what: { among: [carry, offline], is: carry }`;

/** A notebook whose first text is front matter and whose others are query cells; `¦` marks the cursor. */
async function marked(texts: readonly string[]) {
  const cell = texts.findIndex((text) => text.includes("¦"));
  const { offset } = atMark(texts[cell]!);
  const plain = texts.map((text) => text.replace("¦", ""));
  const view = await notebookView(plain.map((text, i) => [i === 0 ? "front" : "query", text] as const));
  return { view, cell, offset, plain };
}

/** The front matter of the tests, with a mark behind the first `before`. */
function frontMarked(before: string): string {
  return smallFrontText.replace(before, `${before}¦`);
}

const uses = ['query=a\nshots.choose("head", \'far\')', "query=b\nshots.filter(d => d.head !== chosen.what).describe({ of: chosen[\"what\"] })", 'query=c\nconst by = "head";\na.choose(by).count()'];

async function checkHover(texts: readonly string[], about: string, ...parts: readonly string[]): Promise<void> {
  const { view, cell, offset, plain } = await marked(texts);
  const found = hoverNotebook(view, cell, offset);
  expect(found === null ? null : plain[cell]!.slice(found.from, found.to)).toBe(about);
  for (const part of parts) expect(found!.markdown).toContain(part);
}

test("hovering a choice tells what it is of, what it is now and what it accepts", async () => {
  await checkHover([smallFrontText, 'query=a\nshots.choose("he¦ad")'], "head", "by the column `head`", "Now: `Wren`", "any, one value or a list of values: `Heron`, `Wren`");
  await checkHover([smallFrontText, 'query=a\nshots.choose("fa¦r")'], "far", "by the column `carry`", "Now: `from 150 yd`", "from and to", "the rows hold 149 to 161 yd");
  await checkHover([smallFrontText, "query=a\nshots.describe({ of: chosen.wh¦at })"], "what", "one word among several", "Now: `carry`", "Accepts one of `carry`, `offline`", "`chosen.what`");
  await checkHover([smallFrontText, 'query=a\nshots.choose("head").filter(d => d.head !== chosen.what¦ &&'], "what", "Now: `carry`");
  await checkHover([smallFrontText, 'query=a\nshots.choose("haed¦")'], "haed", "no choice of this name");
  await checkHover([smallFrontText, "query=a\nshots.describe({ of: cho¦sen.what })"], "chosen", "chosen.NAME");
});

test("hovering the front matter tells the same of a choice, and what its keys say", async () => {
  await checkHover([frontMarked("  he")], "head", "Now: `Wren`", "Accepts any");
  await checkHover([frontMarked("fa")], '"far"', "Now: `from 150 yd`");
  await checkHover([frontMarked("amon")], "among", "Words to choose one from");
  await checkHover([frontMarked("is: Wr")], "Wren", "by the column `head`");
});

test("what a choice holds is shown as it is, never as Markdown", async () => {
  for (const name of hostileNames) {
    const text = JSON.stringify(name);
    const front = `${smallFront[1]}\nchoose:\n  what: { among: [${text}], is: ${text} }\n  it: { of: ${text}, is: [${text}] }`;
    for (const use of ["shots.derive({ x: d => chosen.wh¦at })", 'shots.choose("it¦")', `shots.choose(${JSON.stringify(`¦${name}`)})`]) {
      const { view, cell, offset } = await marked([front, `query=a\n${use}`]);
      expect(tagsIn(hoverNotebook(view, cell, offset)?.markdown ?? "").filter((tag) => !["p", "strong", "code", "br"].includes(tag))).toEqual([]);
    }
  }
});

/** The places found, each as its cell and the text there. */
async function checkPlaces(texts: readonly string[], find: "definition" | "references", expected: readonly string[]): Promise<void> {
  const { view, cell, offset, plain } = await marked(texts);
  const places = find === "references" ? referencesAt(view, cell, offset, true) : await definitionsAt(view, cell, offset, () => Promise.resolve(null));
  expect(places.map((place) => ("cell" in place ? `${place.cell} ${plain[place.cell]!.slice(place.from, place.to)}` : place.path))).toEqual(expected);
}

test("a choice is declared at its line of the front matter", async () => {
  await checkPlaces([smallFrontText, 'query=a\nshots.choose("head", "f¦ar")'], "definition", ["0 far"]);
  await checkPlaces([smallFrontText, "query=a\nshots.describe({ of: chosen.¦what })"], "definition", ["0 what"]);
  await checkPlaces([smallFrontText, 'query=a\nshots.choose("head", "f¦ar").filter(d =>'], "definition", ["0 far"]);
  await checkPlaces([frontMarked("  he")], "definition", ["0 head"]);
  await checkPlaces([frontMarked("s/o")], "definition", ["s/one.session.yaml"]);
  await checkPlaces([smallFrontText, 'query=a\nshots.choose("fa¦rr")'], "definition", []);
});

test("references of a choice are its line and its uses, by its own name alone", async () => {
  await checkPlaces([frontMarked("  he"), ...uses], "references", ["0 head", "1 head", "3 head"]);
  await checkPlaces([smallFrontText, uses[0]!, uses[1]!.replace(".what", ".¦what")], "references", ["0 what", "2 what", "2 what"]);
  await checkPlaces([smallFrontText, 'query=a\nshots.filter(d => d.hea¦d === "Wren").choose("head")'], "references", ["1 head"]);
});

async function renamed(texts: readonly string[], to: string): Promise<readonly string[] | string> {
  const { view, cell, offset, plain } = await marked(texts);
  const answer = renameAt(view, cell, offset, to);
  if (!answer.ok) return answer.because;
  return plain.map((text, i) => replaceSpans(text, answer.edits.filter((edit) => edit.cell === i)));
}

test("a choice is renamed in the front matter and wherever it is used, from either", async () => {
  const [a, b, c] = uses as [string, string, string];
  const club = [smallFrontText.replace("  head:", "  club:"), a.replace("head", "club"), b, c.replace("head", "club")];
  expect(await renamed([frontMarked("  he"), a, b, c], "club")).toEqual(club);
  expect(await renamed([smallFrontText, a.replace("head", "head¦"), b, c], "club")).toEqual(club);
  expect(await renamed([frontMarked("fa"), a], "beyond")).toEqual([smallFrontText.replace("far", "beyond"), a.replace("far", "beyond")]);
  expect(await renamed([smallFrontText, a, b.replace(".what", ".what¦"), c], "measure")).toEqual([smallFrontText.replace("what", "measure"), a, b.replaceAll("what", "measure"), c]);
});

test("a choice's new name stands in quotes where YAML would read another thing", async () => {
  expect(await renamed([frontMarked("  he")], "yes")).toEqual([smallFrontText.replace("  head", '  "yes"')]);
});

test.each([
  ["that another choice has", [frontMarked("  he")], "far", "the front matter has a choice of that name"],
  ["that is no word", [frontMarked("  he")], "the head", "letters, digits and _"],
  ["that belongs to the engine", [frontMarked("  he")], "constructor", "belongs to JavaScript"],
  ["that a cell uses though no choice has it", [frontMarked("  he"), uses[0]!, 'query=b\nshots.choose("club")'], "club", "stand for something else"],
  ["while a cell with the old one cannot be read", [frontMarked("  he"), 'query=b\nshots.choose("head").filter(d =>'], "club", "the cell b has"],
  ["while a constant names a column with the old one too", [frontMarked("  he"), 'query=b\nconst by = "head";\nshots.choose(by).groupby(by).count()'], "club", "a constant of the cell b"],
  ["where the choice is not in the front matter", [smallFrontText, 'query=a\nshots.choose("cl¦ub")'], "head", "no choice called"],
  ["where a word of another choice may name it", [`${frontMarked("  he")}\n  which: { among: [head, far], is: far }`, "query=b\nshots.choose(chosen.which)"], "club", 'by a word of the choice "which"'],
] as const)("no choice gets a name %s", async (_, texts, to, because) => {
  expect(await renamed(texts, to)).toContain(because);
});

test("no column is renamed that a choice of the front matter has in it", async () => {
  const front = smallFrontText.replace("[carry, offline]", "[carry, curve]");
  expect(await renamed([front, "query=a\nshots.derive({ cur¦ve: d => d.offline }).describe({ of: chosen.what })"], "bend")).toContain('the choice "what" of the front matter');
});

/** The first labels completed at the mark in the last of the texts. */
async function labelsAt(texts: readonly string[]): Promise<readonly string[]> {
  const { view, cell, offset } = await marked(texts);
  return (await completeNotebook(view, cell, offset)).map(({ label }) => label);
}

test("the word of a choice completes where one of its words can stand", async () => {
  expect(await labelsAt([smallFrontText, "query=a\nshots.describe({ of: ¦ })"])).toContain("chosen.what");
  expect(await labelsAt([smallFrontText, "query=a\nshots.describe({ by: ¦ })"])).not.toContain("chosen.head");
  expect(await labelsAt([`${smallFrontText}\n  who: { among: [Wren, Heron], is: Wren }`, "query=a\nshots.filter(d => d.head === ¦)"])).toContain("chosen.who");
  expect(await labelsAt([smallFrontText, "query=a\nshots.filter(d => d.head === ¦)"])).not.toContain("chosen.what");
});

/** Takes the fix of each problem in the only cell. */
async function checkFix(before: string, after: string): Promise<void> {
  const view = await notebookView([["front", smallFrontText], ["query", `query=a\n${before}`]]);
  const { text, checked } = view.cells[1]!;
  const lines = lineTable(text);
  const edits = checked.problems.flatMap(({ fix }) => fix?.edits ?? []).map((edit) => ({ from: lines.offsetAt(edit.range.start), to: lines.offsetAt(edit.range.end), text: edit.text }));
  expect(replaceSpans(text, edits)).toBe(`query=a\n${after}`);
}

test("a misspelt choice is mended as it is written", async () => {
  await checkFix('shots.choose("haed")', 'shots.choose("head")');
  await checkFix("shots.choose('haed')", 'shots.choose("head")');
  await checkFix("shots.describe({ of: chosen.waht })", "shots.describe({ of: chosen.what })");
  await checkFix('shots.describe({ of: chosen["waht"] })', 'shots.describe({ of: chosen["what"] })');
});

test("a value that no shot has, any in a list and a range upside down are underlined where they stand", async () => {
  const { openNotebook, expectAt } = await startClient();
  const choices = "  head: { of: head, is: [Wren, Heronn] }\n  all: { of: head, is: [any] }\n  window: { of: carry, from: 160 yd, to: 150 yd }";
  const [top, cell] = await openNotebook([["fairstrike-front", `shots: s/one.session.yaml\nchoose:\n${choices}`], ["fairstrike-query", "query=a\nshots.choose()"], ["fairstrike-query", 'query=b\na.describe({ of: "carry", by: "head" })']]);
  await expectAt(top!, ["3:24-27 nb.value", "4:29-35 nb.value", "2:31-37 nb.choice-value"]);
  await expectAt(cell!, []);
});

test("no place of a choice or its uses throws, in whole or cut texts", async () => {
  for (let length = 0; length <= smallFrontText.length; length += 9) {
    const view = await notebookView([["front", smallFrontText.slice(0, length)], ...uses.map((text, i) => ["query", text.slice(0, text.length - (i * length) % 7)] as const)]);
    for (const { index, text } of view.cells) {
      for (let offset = 0; offset <= text.length; offset += 4) {
        hoverNotebook(view, index, offset);
        renameAt(view, index, offset, "fresh");
        referencesAt(view, index, offset, true);
      }
    }
  }
});

test("renaming in the front matter edits the cells of the editor", async () => {
  const client = await startClient();
  const [uri, cell] = await client.openNotebook([front, ["fairstrike-query", 'query=a\nshots.choose("head")']]);
  const position = { line: 2, character: 3 };
  const { documentChanges } = await client.connection.sendRequest<{ documentChanges: readonly { textDocument: { uri: string }; edits: readonly { newText: string }[] }[] }>("textDocument/rename", { textDocument: { uri }, position, newName: "club" });
  expect(documentChanges.map(({ textDocument, edits }) => [textDocument.uri, ...edits.map(({ newText }) => newText)])).toEqual([[uri, "club"], [cell, '"club"']]);
});
