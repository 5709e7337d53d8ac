import * as fc from "fast-check";

const lines = [
  "---",
  "--- ",
  "title: x",
  "# heading",
  "text",
  "  indented text",
  "    code",
  "\tcode",
  "- item",
  "1. item",
  "> quoted",
  "=======",
  "===",
  "```",
  "````",
  "~~~",
  "  ```",
  "   ~~~~ ",
  "    ```",
  "```js",
  "```js query=gap",
  "```js query=gap ",
  "``` js query=gap",
  "```query=gap",
  "```  query=gap",
  "```JS\tquery=gap x",
  "~~~js query=`a",
  "````json chart=landing table=stock description=\"a b\"",
  "  ```js query=two",
  "   ~~~json chart=three",
  "- ```js query=item",
  "> ```js query=quoted",
  "<!--",
  "-->",
  "<!-- whole -->",
  "<script>",
  "</script>",
  "<div>",
  "<foo>",
  "<?php",
  "<!DOCTYPE",
  "<![CDATA[",
  "[foo]: /url",
  "<<<<<<< ours",
  "||||||| base",
  ">>>>>>> theirs",
  "shots.filter(d => d.carry > 1)",
  "",
  " ",
  "\t",
  "\u2028",
  "\0",
];

/** Several lines that belong together and would seldom come together by chance. */
const groups = [
  ["```js query=one", "shots", "```"],
  ["```json chart=two table=one", "{", "}", "```"],
  ["<<<<<<< ours", "=======", ">>>>>>> theirs"],
  ["<<<<<<< ours", "```js query=one", "a", "```", "=======", "```js query=one", "b", "```", ">>>>>>> theirs"],
  ["```js query=one", "<<<<<<< ours", "a", "||||||| base", "b", "=======", "c", ">>>>>>> theirs", "```"],
  ["<<<<<<< ours", "```js query=one", "=======", "```js query=two", ">>>>>>> theirs", "```"],
  ["<<<<<<< ours", "---", "title: x", "---", "=======", "---", "title: y", "---", ">>>>>>> theirs"],
];

const line = fc.constantFrom(...lines).map((text) => [text]);
const part = fc.oneof({ weight: 6, arbitrary: line }, { weight: 1, arbitrary: fc.constantFrom(...groups) });
const frontMatter = fc.constantFrom<readonly string[]>(
  [],
  [],
  ["---", "title: x", "---"],
  ["---", "<<<<<<< ours", "title: x", "=======", "title: y", ">>>>>>> theirs", "---", ""],
  ["---", "title: x"],
);

/** Texts made of lines that mean something to a notebook, in any order, with line ends of any kind. */
export const notebookPieces: fc.Arbitrary<string> = fc
  .tuple(
    frontMatter,
    fc.array(fc.tuple(part, fc.constantFrom("", "", "", "", "\r\n")), { maxLength: 16 }),
    fc.constantFrom("\n", "\n", "\r\n", "\r"),
    fc.constantFrom("", "", "\ufeff"),
    fc.constantFrom("", "text"),
  )
  .map(([front, parts, end, mark, last]) => {
    const body = parts.map(([texts, odd]) => texts.map((text) => text + (odd || end)).join(""));
    return mark + front.map((text) => text + end).join("") + body.join("") + last;
  });
