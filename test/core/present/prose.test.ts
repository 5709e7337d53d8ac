import { array, assert, constantFrom, oneof, property, string } from "fast-check";
import MarkdownIt from "markdown-it";
import { expect, test } from "vitest";
import { joinProse, plainMarkdown, proseText } from "../../../core/present/prose";
import { inert } from "../../../core/present/show-value";

/** Reads all that outputs and git hosts read: tables, HTML, strikethrough, and addresses of any form. */
const markdown = new MarkdownIt({ html: true, linkify: true });

type Token = ReturnType<typeof markdown.parse>[number];

/** The kinds of all tokens of a text but words, and its words run together. */
function readingOf(text: string): { readonly shape: readonly string[]; readonly words: string } {
  const shape: string[] = [];
  let words = "";
  const visit = (token: Token): void => {
    if (token.type === "text" || token.type === "text_special") words += token.content;
    else shape.push(`${token.type} ${token.tag} ${JSON.stringify(token.attrs)}`);
    token.children?.forEach(visit);
  };
  markdown.parse(text, {}).forEach(visit);
  return { shape, words };
}

/** The author's words around two holes. */
const frames: readonly (readonly [string, string, string])[] = [
  ["", "", ""],
  ["A ", " and ", "."],
  ["# ", " ", "\n"],
  ["- ", "\n- ", "\n\nEnd"],
  ["1. ", "\n2. ", ""],
  ["> ", "\n> ", ""],
  ["| a | b |\n| --- | --- |\n| ", " | ", " |"],
  ["Line\n", "\nline\n", "\nline"],
  ["Line\n\n", "\n\n", " = 3"],
  ["**", "** _", "_ x"],
  ["(", "): [", "](https://example.org)"],
  ["\\", " \\\\", ""],
];

/** Text with the characters that mean something to Markdown in any place; odd characters are shown by their code before. */
const data = oneof(
  array(constantFrom(..."\\ ` * _ { } [ ] ( ) < > # + - . ! | ~ & : / @ $ = ^ ; \" ' ? % , 1 12 a b w www http https ftp mailto com org x y".split(" "), " "), { minLength: 1, maxLength: 12 }).map((all) => all.join("")),
  string({ unit: "grapheme-composite", minLength: 1, maxLength: 20 }),
  constantFrom("- a", "+ a", "1. a", "1) a", "===", "---", "***", "# a", "> a", "```", "~~~", "<b>", "</div>", "&lt;", "&#60;", "a@b.org", "www.example.org", "https://example.org", "//example.org", "[a]: b", "![a](b)", "\\", "\\*", "|", ":-", "\ta", "http:"),
).map((text) => inert(text).trim()).filter((text) => text !== "");

test("V-17 H-02 whatever the data hold, a text reads as with a plain word, and shows them letter for letter", () => {
  assert(
    property(constantFrom(...frames), data, data, (texts, one, other) => {
      const written = joinProse(texts, [one, other].map((text) => ({ kind: "words", markdown: proseText(text) })));
      const plain = readingOf(joinProse(texts, ["word", "other"].map((text) => ({ kind: "words", markdown: text }))));
      const { shape, words } = readingOf(written);
      expect(shape, written).toEqual(plain.shape);
      expect(words, written).toBe(plain.words.replace("word", () => one).replace("other", () => other));
    }),
    { seed: 17, numRuns: 6_000 },
  );
});

test("a number before the author's full stop at the beginning of a line is no item of a list", () => {
  const joined = joinProse(["Shots:\n\n", ". More"], [{ kind: "words", markdown: proseText("32") }]);
  expect(readingOf(joined)).toMatchObject({ words: "Shots:32. More", shape: expect.not.arrayContaining(["list_item_open li null"]) as string[] });
  expect(joinProse(["Wren: ", ". More"], [{ kind: "words", markdown: proseText("32") }])).toBe("Wren: 32. More");
});

test("numbers and units stay readable in the Markdown", () => {
  for (const text of ["153.5 yd", "\u22121.9 yd", "17.3°", "45 %", "–", "0.05", "Wren"]) expect(proseText(text)).toBe(text);
});

test("a block has blank lines around, and a text none at its ends", () => {
  const block = { kind: "block", markdown: "| a |\n| --- |\n" } as const;
  expect(joinProse(["\n  Before\n  ", "\n\n\n  After\n \n"], [block])).toBe("  Before\n\n| a |\n| --- |\n\n  After");
  expect(joinProse(["", ""], [block])).toBe("| a |\n| --- |");
});

test("plain text is Markdown with its escapes read", () => {
  expect(plainMarkdown("A \\*b\\* \\<c\\> \\\\u000a **d**")).toBe("A *b* <c> \\u000a **d**");
});
