import type { Limits } from "../limits";
import { meantAttribute } from "../notebook/header-attributes";
import { splitHeader } from "../notebook/header-text";
import type { Checked, Fix } from "../problem";
import { hasError } from "../problem";
import type { Schema } from "../table/schema";
import { lineTable } from "../text-position";
import { isRecord } from "./check-encoding";
import type { ChartWalk, ColumnUse } from "./check-shape";
import { replacing, report } from "./check-shape";
import type { ObjectNode, UnitFacts } from "./check-view";
import { checkView } from "./check-view";
import { scopeOf } from "./column-scope";
import { describeUnits, inFirstLine } from "./describe-chart";
import type { ChartSpec } from "./fit-spec";
import type { Span } from "./json-tree";
import { readJson } from "./json-tree";
import { missingBrackets } from "./missing-brackets";
import { vegaKeys } from "./refused-spec";

/** A chart cell's specification, checked: types and titles completed, columns under the names of `fieldName`, no data. */
export interface CheckedChart {
  readonly spec: ChartSpec;
  /** The description in the specification; `null` when it has none. The cell's first line may have another. */
  readonly description: string | null;
  /** A description made from what is drawn. */
  readonly generated: string;
  /** False while a column that is drawn may not be in the table: then `generated` may name what is not there. */
  readonly fieldsKnown: boolean;
  /** Columns of the table that are drawn, in order of first use. */
  readonly columns: readonly string[];
  /** Every place where a column of the table is named, in UTF-16 offsets of the cell's text. */
  readonly uses: readonly ColumnUse[];
  readonly units: readonly UnitFacts[];
  /** What it was checked from, for checking it again when the table is there. */
  readonly from: { readonly text: string; readonly bodyOffset: number };
  /** True when not every column of the table was known: unknown columns and units were passed over. */
  readonly isPartial: boolean;
}

/**
 * Checks the specification of a chart cell against what is accepted of Vega-Lite and against the columns of its table.
 *
 * Nothing of the text is evaluated: expressions, data, links, images and parameters are refused. With an error there
 * is no value: half a chart could say something that was not meant.
 *
 * @param text the cell's text, its first line included.
 * @param bodyOffset where the specification begins in it.
 */
export function checkChart(text: string, bodyOffset: number, schema: Schema, limits: Limits): Checked<CheckedChart | null> {
  const walk: ChartWalk = { text, lines: lineTable(text), limits, problems: [], uses: [], done: new Map() };
  const { problems } = walk;
  const root = readRoot(text, bodyOffset, walk);
  if (root === null) return { value: null, problems };
  const { spec, units } = checkView(root, { path: "", scope: scopeOf(schema) }, walk);
  if (hasError(problems)) return { value: null, problems };
  const written = spec["description"];
  const description = typeof written === "string" && written.trim() !== "" ? written : null;
  const generated = describeUnits(units);
  const uses = walk.uses.filter((use) => !use.isMade);
  const columns = [...new Set(uses.map((use) => use.name))];
  const fieldsKnown = columns.every((name) => schema.columns.some((column) => column.name === name));
  if (description === null) askForDescription(text.slice(0, bodyOffset), root, fieldsKnown ? generated : null, walk);
  lint(root, spec, units, walk);
  return { value: { spec, description, generated, fieldsKnown, columns, uses, units, from: { text, bodyOffset }, isPartial: schema.open }, problems };
}

function readRoot(text: string, bodyOffset: number, walk: ChartWalk): ObjectNode | null {
  const length = text.length - bodyOffset;
  const start: Span = { from: bodyOffset, to: bodyOffset };
  if (length > walk.limits.chartText) {
    report(walk, "chart.too-long", { length, most: walk.limits.chartText }, start);
    return null;
  }
  const read = readJson(text, bodyOffset, walk.limits.depth);
  if ("fault" in read) {
    const { kind, found, accepted, instead } = read.fault;
    const fix = instead === undefined ? closingFix(read.fault, bodyOffset, walk) : replacing(walk, read.fault, instead, instead === "" ? "Remove it" : `Write ${instead}`);
    if (kind === "depth") report(walk, "chart.too-deep", { most: walk.limits.depth }, read.fault);
    else report(walk, "chart.not-json", { found, accepted }, read.fault, fix);
    return null;
  }
  const root = read.value;
  if (root.kind !== "object") {
    report(walk, "chart.not-vega-lite", { because: "it is not an object" }, root);
    return null;
  }
  const schema = root.entries.find((entry) => entry.key === "$schema");
  if (schema !== undefined && !(schema.value.kind === "text" && /vega-lite/i.test(schema.value.value))) {
    report(walk, "chart.not-vega-lite", { because: "it names another schema" }, schema.value);
    return null;
  }
  const vega = root.entries.find((entry) => vegaKeys.includes(entry.key));
  if (vega !== undefined) {
    report(walk, "chart.not-vega-lite", { because: `"${vega.key}" belongs to Vega` }, vega.keySpan);
    return null;
  }
  return root;
}

/** The fix of a text that ends before its brackets are closed, if nothing else is wrong with it. */
function closingFix({ from }: Span, bodyOffset: number, walk: ChartWalk): Fix | undefined {
  const { text, limits } = walk;
  const missing = from < text.trimEnd().length ? null : missingBrackets(text, bodyOffset, limits.depth);
  if (missing === null) return undefined;
  return replacing(walk, { from: missing.offset, to: missing.offset }, missing.text, `Write ${missing.text.replaceAll(/\s+/gu, "")} at the end`);
}

/**
 * Asks for a description, in the cell's first line or, where there is none, in the specification.
 *
 * @param generated what the fix would write; `null` while that is not known.
 */
function askForDescription(header: string, root: ObjectNode, generated: string | null, walk: ChartWalk): void {
  const end = header.search(/[\r\n]|$/);
  const pieces = splitHeader(header.slice(0, end));
  const written = pieces.find(({ name }) => name === "description");
  // A name with a slip is a problem of its own, too.
  if (written === undefined && pieces.some(({ name }) => name !== null && name !== "chart" && meantAttribute(name, "chart") === "description")) return;
  // A quote that is never closed is a problem of its own.
  if (written !== undefined && (written.value.trim() !== "" || !written.closed)) return;
  const span = written ?? (end > 0 ? { from: 0, to: end } : { from: root.from, to: root.from + 1 });
  report(walk, "chart.no-description", {}, span, generated === null ? undefined : describing(generated));

  function describing(words: string): Fix {
    const title = "Describe what is drawn";
    const attribute = `description="${inFirstLine(words)}"`;
    if (written !== undefined) return replacing(walk, written, attribute, title);
    if (end > 0) return replacing(walk, { from: end, to: end }, ` ${attribute}`, title);
    const comma = root.entries.length === 0 ? "" : ",";
    return replacing(walk, { from: root.from + 1, to: root.from + 1 }, ` "description": ${JSON.stringify(words)}${comma}`, title);
  }
}

/** Says where a chart may mislead. */
function lint(root: ObjectNode, spec: Record<string, unknown>, units: readonly UnitFacts[], walk: ChartWalk): void {
  const entry = (key: string) => root.entries.find((each) => each.key === key);
  for (const unit of units) {
    const cut = unit.channels.find(
      ({ channel, type, isBinned, startsAtZero }) => (channel === "x" || channel === "y") && type === "quantitative" && !isBinned && !startsAtZero,
    );
    if (unit.mark === "bar" && cut !== undefined) report(walk, "chart.cut-axis", { axis: cut.channel }, (entry("encoding") ?? entry("mark"))?.keySpan ?? root);
  }
  const resolve = entry("resolve");
  const scales = isRecord(spec["resolve"]) && isRecord(spec["resolve"]["scale"]) ? spec["resolve"]["scale"] : {};
  if (!Array.isArray(spec["layer"]) || resolve === undefined) return;
  for (const axis of ["x", "y"]) if (scales[axis] === "independent") report(walk, "chart.two-scales", { axis }, resolve.keySpan);
}
