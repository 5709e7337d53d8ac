import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { styleSheet } from "../../../extension/renderer/styles";

const folder = path.join(import.meta.dirname, "../../../extension/renderer");
const sources = readdirSync(folder)
  .filter((name) => name.endsWith(".ts"))
  .map((name) => ({ name, text: readFileSync(path.join(folder, name), "utf8") }));

test("H-01 H-02 nothing in the renderer turns text into markup or into code", () => {
  const forbidden = /innerHTML|outerHTML|insertAdjacentHTML|document\.write|createContextualFragment|DOMParser|\beval\b|new Function|\.href\b/;
  expect(sources.length).toBeGreaterThan(5);
  expect(sources.filter(({ text }) => forbidden.test(text)).map(({ name }) => name)).toEqual([]);
});

test("the renderer sends four kinds of message, a choice, a figure, what a person sets aside and which rows are wanted, each from one place", () => {
  const calls = sources.flatMap(({ name, text }) => [...text.matchAll(/postMessage\??\.?\(.*/g)].map(([call]) => `${name}: ${call}`));
  expect(calls).toEqual(['ask-choice.ts: postMessage?.({ type: "choose", question, name, wanted } satisfies ChooseMessage);', 'ask-figure.ts: postMessage?.({ type: "save-figure", question, output, ...figure } satisfies FigureMessage);', 'index.ts: postMessage?.({ type: "set-aside", question, files } satisfies SetAsideMessage);', 'table-store.ts: postMessage?.({ type: "table", question, handle, wish } satisfies TableQuestion);']);
});

test("every colour of an output is one of the editor's theme", () => {
  expect(styleSheet).not.toMatch(/#[0-9a-f]{3,8}\b|rgba?\(|hsla?\(|:\s*(?:black|white|gr[ae]y|red|blue)\b/i);
});

test("H-07 every class is this project's own", () => {
  const classes = [...styleSheet.matchAll(/\.([a-z][\w-]*)/g)].map((match) => match[1]!);
  expect(classes.filter((name) => !name.startsWith("fairstrike"))).toEqual([]);
});
