import { misreadRules } from "../core/quality/rules";
import { usualReadingErrors } from "../core/quality/reading-errors";
import type { Help, Option, Options, Verb } from "../core/query/vocabulary";
import { textForms } from "../core/query/text-forms";
import { headDefaults } from "../core/session/head-defaults";
import { sessionKeyHelp } from "../core/session/session-keys";
import { shotColumnNames, shotColumns } from "../core/table/shot-columns";
import { unitFor, units, type Unit } from "../core/units";
import { vocabulary } from "../core/vocabulary";

/** The lines between which the generated part of the README stands. */
export const referenceMarks = ["<!-- reference: made by `npm run reference` from the tables in core -->", "<!-- reference ends -->"] as const;

/** The reference of everything that can be written in a notebook or a session file, from the tables that check it. */
export function referenceText(): string {
  return [
    "### Shot columns",
    "",
    "Directions are positive to the right of the target line, strikes to the toe and up. The unit is that of a `yd-mph` notebook. Whatever else an export has keeps its own header: `d[\"its name\"]`.",
    "",
    ...table(["column", "unit", "meaning"], shotColumnNames.map((name) => [code(name), unitOf(name), shotColumns[name].description])),
    "",
    "### Tables",
    "",
    "A cell begins with `shots`, another cell's name, `session(\"…\")`, `sessions(\"…\")`, or a table made from options:",
    "",
    ...table(["table", "what it holds", "example"], [...vocabulary.sources.values()].map((source) => [code(`${source.name}({ … })`), source.help.summary + optionText(source.options), exampleOf(source.help)])),
    "",
    "### Verbs",
    "",
    ...table(["verb", "what it does", "example"], [...vocabulary.verbs.values()].map((verb) => [code(verb.name), verb.help.summary + optionsIn(verb), code(verb.help.example)])),
    "",
    "### Tables made from options",
    "",
    "They stand where a table can stand, without shots.",
    "",
    ...table(["table", "what it holds", "example"], [...vocabulary.sources.values()].map((each) => [code(each.name), each.help.summary + optionText(each.options), exampleOf(each.help)])),
    "",
    "### Functions of one row",
    "",
    "Missing in, missing out, unless said otherwise.",
    "",
    ...table(["function", "what it gives"], [...vocabulary.rowFunctions.values()].map((each) => [code(`op.${each.name}(${each.parameters.map(parameterText).join(", ")})`), each.help.summary])),
    "",
    "### Functions of the rows of a group",
    "",
    "For `rollup`; missing values are left out and never count as 0.",
    "",
    ...table(["function", "what it gives"], [...vocabulary.aggregates.values()].map((each) => [code(aggregateText(each)), each.help.summary])),
    "",
    "### Charts",
    "",
    ...table(["chart", "what it shows", "needs", "example"], [...vocabulary.charts.values()].map((each) => [code(`chart.${each.name}`), each.help.summary + optionText(each.options), each.needs.map(code).join(", "), exampleOf(each.help)])),
    "",
    "### Words with computed numbers",
    "",
    ...table(["form", "what it gives", "example"], textForms.map(({ form, help }) => [code(form), help.summary, exampleOf(help)])),
    "",
    "### Keys of a session file",
    "",
    ...Object.entries(sessionKeyHelp).flatMap(([map, keys]) => [
      map === "session" ? "At the top:" : `In ${article(map)}:`,
      "",
      ...table(["key", "what it holds"], Object.entries(keys).map(([key, help]) => [code(key), help])),
      "",
    ]),
    "### Rules on misreads",
    "",
    "Each looks at one session. What it finds is proposed and never set aside by itself; where a rule's evidence is calculated from what it would doubt, it says so and finds nothing.",
    "",
    ...table(["rule", "can doubt", "what it looks at", "tolerance", "source"], misreadRules.map((rule) => [rule.name, rule.doubts.length > mostNamed ? "most columns of numbers" : rule.doubts.map(code).join(", "), rule.summary, rule.tolerance, rule.source])),
    "",
    "Beside them stands `part of a session`: what a column differs by from what others imply is cut into parts of one level each, by least squares with a penalty of 3 σ² ln N for a change (all cuts at once: Jackson and others 2005, IEEE Signal Processing Letters 12:105), parts of 8 shots at least, checked by random orders of blocks of shots; the bias is the difference of medians, its interval from resampled blocks.",
    "",
    "### Units and defaults",
    "",
    `Units, with other spellings: ${(Object.keys(units) as Unit[]).map((unit) => code(unit) + spellings(units[unit].also)).join(", ")}.`,
    "",
    "Where neither the notebook nor the session states one, these hold, by common practice and no source:",
    "",
    ...table(
      ["", ...Object.keys(headDefaults)],
      [
        ["strike reference from the monitor's origin, x and y (mm)", ...kinds((kind) => `${kind.strikeReference.x}, ${minus(kind.strikeReference.y)}`)],
        ["centre zone, width and height (mm)", ...kinds((kind) => `${2 * kind.centreZone.halfWidth}, ${2 * kind.centreZone.halfHeight}`)],
        ...Object.keys(headDefaults.iron.margins).map((column) => [
          `margin of ${code(column)}`,
          ...kinds((kind) => {
            const margin = Object.entries(kind.margins).find(([name]) => name === column)?.[1];
            return margin === undefined ? "" : `${margin.value} ${margin.unit}`;
          }),
        ]),
      ],
    ),
    "",
    `Where a session states no \`reading_error\`, one standard deviation of a reading is taken to be, by common practice and no source: ${Object.entries(usualReadingErrors).map(([column, { value, unit }]) => `${code(column)} ${value} ${unit}`).join(", ")}.`,
  ].join("\n");
}

/** Columns of a rule beyond which they are not named one by one. */
const mostNamed = 8;

function kinds(text: (kind: (typeof headDefaults)[keyof typeof headDefaults]) => string): readonly string[] {
  return Object.values(headDefaults).map(text);
}

function code(text: string): string {
  return text.includes("`") ? `\`\` ${text} \`\`` : `\`${text}\``;
}

function minus(value: number): string {
  return String(value).replace("-", "\u2212");
}

function spellings(also: readonly string[]): string {
  return also.length === 0 ? "" : ` (${also.join(", ")})`;
}

function article(map: string): string {
  return /^[aeiou]/u.test(map) ? `an entry of \`${map}\`` : `\`${map}\``;
}

function unitOf(name: (typeof shotColumnNames)[number]): string {
  const { kind, quantity } = shotColumns[name];
  if (quantity !== null) return unitFor(quantity, "yd-mph");
  return kind === "text" ? "text" : "";
}

function parameterText({ name, rest }: { readonly name: string; readonly rest?: boolean }): string {
  return rest === true ? `${name}, …` : name;
}

function aggregateText({ name, of, numbers }: { readonly name: string; readonly of: string; readonly numbers: readonly { readonly name: string }[] }): string {
  return `op.${name}(${[...(of === "none" ? [] : ['"column"']), ...numbers.map((each) => each.name)].join(", ")})`;
}

function exampleOf({ example }: Help): string {
  return code(example);
}

function optionsIn(verb: Verb): string {
  return verb.parameters.map((parameter) => (parameter.kind === "options" ? optionText(parameter.options) : "")).join("");
}

function optionText(options: Options): string {
  const all = Object.entries(options);
  if (all.length === 0) return "";
  return ` Options: ${all.map(([name, option]) => `${code(name)}${option.required ? " (needed)" : ""}, ${lowered(option)}`).join("; ")}.`;
}

function lowered({ help }: Option): string {
  return help.charAt(0).toLowerCase() + help.slice(1).replace(/\.$/u, "");
}

/** A table in the Markdown of git hosts; a pipe inside a cell is escaped. */
function table(head: readonly string[], rows: readonly (readonly string[])[]): readonly string[] {
  const line = (cells: readonly string[]): string => `| ${cells.map((cell) => cell.replaceAll("|", "\\|")).join(" | ")} |`;
  return [line(head), line(head.map(() => "---")), ...rows.map(line)];
}
