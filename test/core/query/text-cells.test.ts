import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { textForms } from "../../../core/query/text-forms";
import { makeTable, numberColumn, textColumn, type Table } from "../../../core/table/table";
import { vocabulary } from "../../../core/vocabulary";
import { check, fixed, placed, run, type Setting } from "./query-support";

const note = "\n\nSynthetic data: no shot behind these numbers was hit.";
const first = "shots.slice(0, 1)";
const byHead = 'shots.groupby("head").rollup({ mean: op.mean("carry"), n: op.count() })';

/** Expects the cell to give this text, the note on the sample's data left out. */
function checkText(body: string, expected: string, setting: Setting = {}): void {
  const { value, problems } = run(body, setting);
  expect(problems).toEqual([]);
  expect(value).toEqual({ type: "text", markdown: setting.tables === undefined ? expected + note : expected });
}

/** Expects exactly these problems before anything runs, each as its code and the text it is placed on. */
function checkProblems(body: string, ...expected: string[]): void {
  expect(placed(body, check(body).problems), body).toEqual(expected);
}

/** Expects the cell to be without problems until it runs, and then to have these. */
function checkFails(body: string, expected: string[], setting: Setting = {}): void {
  const { value, problems } = run(body, setting);
  expect(value).toBeNull();
  expect(placed(body, problems)).toEqual(expected);
}

function only(...columns: Table["columns"]): Setting {
  const length = columns[0]!.kind === "text" ? columns[0]!.codes.length : columns[0]!.values.length;
  return { tables: new Map([["gap", makeTable(columns, length)]]) };
}

test.each(textForms.map(({ form, help }) => [form, help] as const))("%s has a summary, and an example that runs", (_, { summary, example }) => {
  expect(summary).toMatch(/^[A-Z].*\.$/);
  expect(check(example).problems).toEqual([]);
  expect(run(example).value).toMatchObject({ type: "text" });
});

test("a cell with a text is known to give a text before it runs", () => {
  expect(check("text`Nothing to compute.`").value?.result).toEqual({ type: "text" });
  checkText("text`Nothing to compute.`", "Nothing to compute.", { tables: new Map() });
});

test("one value has its unit and the decimals of its table, or those that are asked for", () => {
  checkText(`text\`Wren carried \${${byHead}.filter(d => d.head === "Wren").one("mean")}.\``, "Wren carried 153.5 yd.");
  checkText(`text\`\${${byHead}.filter(d => d.head === "Wren").one("mean", 3)}\``, "153.500 yd");
  checkText(`text\`\${${byHead}.filter(d => d.head === "Wren").one("mean", 0)}\``, "154 yd");
  checkText(`const digits = 2\ntext\`\${${byHead}.slice(0, 1).one("mean", digits)}\``, "153.50 yd");
  checkText(`text\`\${${first}.one("launch_angle", 1)} with \${${first}.one("head")}\``, "17.0° with Wren");
  checkText(`text\`\${${byHead}.slice(0, 1).one("n")} shots\``, "4 shots");
});

test("a minus is a minus, and a missing value is the mark of a missing value and never 0", () => {
  checkText('text`${gap.one("d")}`', "\u22121.9 yd", only(numberColumn("d", [-1.94], "yd")));
  checkText('text`It is ${gap.one("d")}, ${gap.one("h")}.`', "It is –, –.", only(numberColumn("d", [null], "yd"), textColumn("h", [null])));
});

test("rows of a table with intervals are shown in the decimals of the whole table", () => {
  const wide = { ...vocabulary, verbs: new Map([...vocabulary.verbs, ["estimates", estimates]]) };
  const body = (table: string): string => `text\`\${${table}.one("difference")}\``;
  const setting: Setting = { vocabulary: wide };
  checkText(body('shots.estimates().filter(d => d.head === "Heron")'), "12 yd", setting);
  checkText(body('shots.estimates().orderby("head").rename({ difference: "gap" }).select("gap").slice(0, 1).rename({ gap: "difference" })'), "12 yd", setting);
  checkText(body('shots.estimates().filter(d => d.head === "Heron").derive({ difference: d => d.difference * 1 })'), "12.3 yd", setting);
});

/** A verb of the trade whose intervals are tens of yards wide. */
const estimates = {
  ...vocabulary.verbs.get("describe")!,
  name: "estimates",
  parameters: [],
  infer: () => ({
    schema: {
      columns: [
        { name: "head", kind: "text" as const, unit: null, origin: "computed" as const },
        ...["difference", "from", "to"].map((name) => ({ name, kind: "number" as const, unit: "yd" as const, origin: "computed" as const })),
      ],
      open: false,
      groupedBy: [],
      fromShots: false,
    },
    problems: [],
  }),
  run: (input: Table): Table => ({
    ...makeTable(
      [
        textColumn("head", ["Heron", "Plover"]),
        numberColumn("difference", [12.34, -3.2], "yd"),
        numberColumn("from", [-30, -50], "yd"),
        numberColumn("to", [50, 40], "yd"),
      ],
      2,
      { sessions: [], behind: input.sessions },
      { method: "a method", sentences: ["Heron carries 12 yd farther."], hidden: [], picture: null },
    ),
  }),
};

test("a table that has not exactly one row has no one value", () => {
  checkProblems('text`${shots.one("carry")}`', "query.not-one-row shots");
  checkFails('text`${shots.filter(d => d.carry > 999).one("carry")}`', ["query.undecided-rows d => d.carry > 999", "query.none-left d => d.carry > 999", "query.not-one-row shots.filter(d => d.carry > 999)"]);
  checkFails('text`${shots.filter(d => d.head === "Wren").one("carry")}`', ['query.not-one-row shots.filter(d => d.head === "Wren")']);
  expect(check('text`${shots.one("carry")}`').problems[0]).toMatchObject({ facts: { count: 12 } });
  expect(check('text`${shots.one("carry")}`').problems[0]!.hint).toMatch(/filter.*slice/);
});

test("what stands in the brackets of one is checked, with the nearest name", () => {
  checkProblems(`text\`\${${first}.one("cary")}\``, 'query.unknown-column "cary"');
  checkProblems(`text\`\${${first}.one(carry)}\``, "query.expected carry");
  checkProblems(`text\`\${${first}.one()}\``, "query.missing-argument one");
  checkProblems(`text\`\${${first}.one("carry", 1, 2)}\``, "query.too-many-arguments 2");
  checkProblems(`text\`\${${first}.one("carry", 1.5)}\``, "query.number 1.5");
  checkProblems(`text\`\${${first}.one("carry", 11)}\``, "query.number 11");
  checkProblems(`text\`\${${first}.one("carry", -1)}\``, "query.number -1");
  checkProblems(`text\`\${${first}.one("carry", "1")}\``, 'query.expected "1"');
  checkProblems(`text\`\${${first}.one("head", 1)}\``, 'query.column-kind "head"');
  checkProblems(`text\`\${${first}.sentences(1)}\``, "query.too-many-arguments 1");
  expect(fixed(`text\`\${${first}.one("cary")}\``)).toBe(`text\`\${${first}.one("carry")}\``);
});

test("columns that come from data are checked when the text is made", () => {
  const wide = 'shots.groupby("intent", "head").rollup({ m: op.mean("carry") }).groupby("intent").pivot("head", "m").filter(d => d.intent === "stock")';
  checkText(`text\`\${${wide}.one("Wren")}\``, "153 yd");
  checkFails(`text\`\${${wide}.one("Egret")}\``, ['query.unknown-column "Egret"']);
});

test("sentences of a verb of the trade run on in a text", () => {
  const table = 'shots.describe({ of: "carry", by: "head" })';
  const { value } = run(table);
  if (value?.type !== "table") throw new Error("no table");
  const said = run(`text\`In short: \${${table}.sentences()}\``).value;
  // The sentences say themselves that the data are synthetic: it is not said twice.
  expect(said).toEqual({ type: "text", markdown: `In short: ${value.report!.sentences.join(" ")}` });
});

test("of a long report a text says the answer and whose shots these were, and below that the data are synthetic", () => {
  const table = 'shots.compare({ of: "carry", by: "head" })';
  const { value } = run(table);
  if (value?.type !== "table") throw new Error("no table");
  const { sentences, answer } = value.report!;
  expect(answer).toBeLessThan(sentences.length - 2);
  const said = run(`text\`\${${table}.sentences()}\``).value;
  const short = [...sentences.slice(0, answer), sentences.at(-1)!].join(" ");
  expect(said).toEqual({ type: "text", markdown: `${short}\n\nSynthetic data: no shot behind these numbers was hit.` });
});

test("a table without sentences has none to give", () => {
  checkProblems("text`${shots.sentences()}`", "query.no-sentences sentences");
  checkProblems('text`${session("spring.session.yaml").sentences()}`', "query.no-sentences sentences");
  checkProblems('text`${shots.describe({ of: "carry", by: "head" }).slice(0, 1).sentences()}`', "query.no-sentences sentences");
  checkFails("text`${stock.sentences()}`", ["query.no-sentences sentences"]);
});

test("a table with a line to itself is shown with blank lines around, and the rows left out are counted", () => {
  const counts = 'shots.groupby("head").count()';
  const rows = "| head | count |\n| --- | ---: |\n| Wren | 4 |\n| Heron | 4 |\n| Plover | 4 |";
  checkText(`text\`\${${counts}}\``, rows);
  checkText(`text\`\n  Shots:\n  \${${counts}}  \n  and so on\n\``, `  Shots:\n\n${rows}\n\n  and so on`);
  const many = only(numberColumn("n", Array.from({ length: 53 }, (_, row) => row)));
  const { value } = run("text`${gap}`", many);
  if (value?.type !== "text") throw new Error("no text");
  expect(value.markdown.split("\n").slice(-3)).toEqual(["| 49 |", "", "3 more rows are not shown."]);
  expect(run("text`${gap.filter(d => d.n > 99)}`", many).value).toMatchObject({ markdown: expect.stringMatching(/0 rows$/) as string });
});

test("a table with anything beside it is refused", () => {
  checkProblems("text`Shots: ${shots}`", "query.table-in-line shots");
  checkProblems("text`${shots}.`", "query.table-in-line shots");
  checkProblems("text`${shots}${stock}`", "query.table-in-line shots", "query.table-in-line stock");
  checkProblems(`text\`\${${first}.one("head")} \${shots}\``, "query.table-in-line shots");
  checkProblems("text`- ${shots}`", "query.table-in-line shots");
  checkProblems("text`a\n${shots}\n${stock}\nb`");
});

test("the author's Markdown passes as written, and line ends at both ends are dropped", () => {
  checkText("text`\n## Result\n\n- *one*\n- <b>two</b> \\`code\\` \\${1}\n`", "## Result\n\n- *one*\n- <b>two</b> `code` ${1}", { tables: new Map() });
});

test("holes stand where the data are words: in sentences, headings, lists, tables and emphasis", () => {
  const hole = `\${${first}.one("head")}`;
  for (const good of [`# ${hole}`, `- ${hole}\n  - ${hole}`, `| a |\n| - |\n| ${hole} |`, `**${hole}** _${hole}_`, `[${hole}](https://example.org)`, `> ${hole}`]) {
    checkProblems(`text\`${good}\``);
  }
  for (const [bad, place] of [
    [`[a](${hole})`, "an address"],
    [`![a](x "${hole}")`, "an address"],
    [`[a](javascript:${hole})`, "an address"],
    [`https://example.org/${hole}`, "an address"],
    [`<https://${hole}.org>`, "an address"],
    [`<b title="${hole}">x</b>`, "HTML"],
    [`<div>\n${hole}\n</div>`, "HTML"],
    [`<!-- ${hole} -->`, "HTML"],
    [`\\\`${hole}\\\``, "code"],
    [`    ${hole}`, "code"],
    [`\\\`\\\`\\\`${hole}\nx\n\\\`\\\`\\\``, "code"],
    [`\\\`\\\`\\\`\n${hole}`, "code"],
    [`[a]: ${hole}`, "what Markdown does not show"],
  ] as const) {
    const { problems } = check(`text\`${bad}\``);
    expect(problems.map((found) => [found.code, found.facts]), bad).toEqual([["query.hole-place", { place }]]);
  }
});

test("what a hole cannot hold is said at the hole", () => {
  checkProblems("text`${1 + 1}`", "query.not-a-hole 1 + 1");
  checkProblems("text`${d.carry}`", "query.not-a-hole d.carry");
  checkProblems("text`${shots.carry}`", "query.not-a-hole shots.carry");
  checkProblems('text`${"Wren"}`', 'query.not-a-hole "Wren"');
  checkProblems("text`${d => d.carry}`", "query.not-a-hole d => d.carry");
  checkProblems("text`${chart.landing(shots)}`", "query.not-a-hole chart.landing(shots)");
  checkProblems('text`${op.mean("carry")}`', 'query.not-a-hole op.mean("carry")');
  checkProblems("text`${[shots]}`", "query.not-a-hole [shots]");
  checkProblems("const far = 200\ntext`${far}`", "query.not-a-hole far");
  checkProblems("text`a ${} b`", "query.not-a-hole ${}");
  checkProblems("text`${stok.count()}`", "query.unknown-table stok");
  checkProblems(`text\`\${${first}.on("carry")}\``, "query.unknown-verb on");
  expect(fixed(`text\`\${${first}.onne("carry")}\``)).toBe(`text\`\${${first}.one("carry")}\``);
});

test("one and sentences stand at the end of a hole and nowhere else", () => {
  checkProblems('shots.one("carry")', "query.text-only one");
  checkProblems("chart.landing(shots.sentences())", "query.text-only sentences");
  checkProblems('text`${shots.one("head").count()}`', "query.text-only one");
});

test("each mistake of a text is said, and constants of the cell can be used", () => {
  checkProblems(`text\`\${${first}.one("cary")} and \${1}\``, 'query.unknown-column "cary"', "query.not-a-hole 1");
  checkText(`const wren = shots.filter(d => d.head === "Wren")\ntext\`\${wren.count().one("count")} shots\``, "4 shots");
});

test("Q-12 text is no name of a constant or a row, and no table", () => {
  checkProblems("const text = shots\ntext", "query.reserved-name text");
  checkProblems("shots.filter(text => true)", "query.reserved-name text");
  checkProblems("text", "query.not-a-table text");
  checkProblems('text("a")', "query.not-allowed text");
});

test("V-17 text from data is shown as it is and never becomes markup", () => {
  const odd = "*Wren* <img src=x onerror=alert(1)> [a](command:b) | `c`";
  checkText(
    'text`${gap.one("h")}`',
    "\\*Wren\\* \\<img src=x onerror=alert(1)\\> \\[a\\](command:b) \\| \\`c\\`",
    only(textColumn("h", [odd])),
  );
  checkText('text`${gap.one("h")}`', "a\\\\u000ab\\\\u202e", only(textColumn("h", ["a\nb\u202e"])));
  checkText('text`${gap}`', "| \\<b\\> |\n| --- |\n| x\\|y |", only(textColumn("<b>", ["x|y"])));
});

test("a text is bounded: holes, length, and what it gives", () => {
  const tooMany = check(`text\`${"${shots.count()}\n".repeat(2_000)}\``).problems;
  expect(tooMany.map(({ code }) => code)).toEqual(["query.too-deep"]);
  expect(check(`text\`${"${a}".repeat(10_000)}\``).problems.map(({ code }) => code)).toEqual(["query.too-deep"]);
  expect(check(`text\`${"x".repeat(70_000)}\``).problems.map(({ code }) => code)).toEqual(["query.too-long"]);
  const long = only(textColumn("h", ["x".repeat(defaultLimits.textResult / 2)]));
  checkFails('text`${gap.one("h")} ${gap.one("h")} ${gap.one("h")}`', ['run.too-large gap.one("h")'], long);
  let looks = 0;
  run("text`${gap.count()}\n\n${gap.count()}`", { ...only(textColumn("h", ["x"])), checkpoint: () => void looks++ });
  expect(looks).toBeGreaterThan(3);
});
