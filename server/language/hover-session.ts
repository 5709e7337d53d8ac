import { resolvePath, folderOf } from "../../core/path";
import { digitsAsStated, formatMeasure } from "../../core/present/format-number";
import { sessionKeyHelp, type SessionMap } from "../../core/session/session-keys";
import type { Shape } from "../../core/session/session-shapes";
import { shapeOf as tableShape } from "../../core/table/schema";
import { isShotColumn, type ShotColumn } from "../../core/table/shot-columns";
import { convert, isConvertible, measuredBy, parseMeasure, parseUnit, units, unitsBeside, type Unit } from "../../core/units";
import type { HoverAnswer } from "./answers";
import { columnMarkdown, nameInCode, sentence } from "./column-hover";
import { escaped } from "./markdown";
import { defaultOf } from "./session-defaults";
import { acceptedBy, columnInWords } from "./session-key-words";
import { headMarkdown } from "./session-markdown";
import { looseTreeOf, mappedHeaders, placeIn, shapesAt, siblingText, type SessionPlace } from "./session-place";
import type { SessionView } from "./session-view";

/** What is known of the key or the value at an offset of a session file: help, what is accepted, defaults, what the exports hold. */
export function hoverSession(view: SessionView, offset: number): HoverAnswer | null {
  const place = placeIn(looseTreeOf(view), offset);
  if (place === null) return null;
  const parts = place.role === "key" ? aboutKey(view, place) : aboutValue(view, place);
  const { from, to } = place.scalar;
  return parts.length === 0 ? null : { from, to, markdown: parts.join("\n\n") };
}

function aboutKey(view: SessionView, { path, scalar: { text } }: SessionPlace): readonly string[] {
  for (const shape of shapesAt(path)) {
    if (shape.kind === "map" && Object.hasOwn(sessionKeyHelp[shape.map], text)) return keyHelp(shape.map, path, text);
    if (shape.kind !== "entries") continue;
    if (shape.keys === "heads") return [`**${nameInCode(text)}**: a head`, headMarkdown(text, view.shots?.sessions ?? [])];
    if (isShotColumn(text)) return [...aboutColumn(view, text), ...(path[0] === "columns" ? readFrom(view, text) : []), ...optional(defaultOf(path, text))];
  }
  return [];
}

function keyHelp(map: SessionMap, path: readonly (string | null)[], key: string): readonly string[] {
  const help: Readonly<Record<string, string>> = sessionKeyHelp[map];
  const shapes = shapesAt([...path, key]);
  const accepted = [...new Set(shapes.map(acceptedBy).filter((words) => words !== ""))];
  const keys = shapes.flatMap((shape) => (shape.kind === "map" ? [`Keys: ${(shape.only ?? Object.keys(sessionKeyHelp[shape.map])).map(nameInCode).join(", ")}`] : []));
  return [`**${nameInCode(key)}**: ${escaped(sentence(help[key] ?? ""))}`, ...accepted.slice(0, 1).map((words) => `Accepted: ${escaped(words)}`), ...new Set(keys), ...optional(defaultOf(path, key))];
}

function optional(text: string | null): readonly string[] {
  return text === null ? [] : [escaped(text)];
}

/** What is known of a shot column: as this session has it, else what its name means. */
function aboutColumn(view: SessionView, name: ShotColumn): readonly string[] {
  const there = view.shots === null ? undefined : tableShape({ ...view.shots, columns: view.shots.columns.filter((column) => column.name === name) }).columns[0];
  return [there === undefined ? `**${nameInCode(name)}**: ${escaped(columnInWords(name))}` : columnMarkdown(there)];
}

function readFrom(view: SessionView, column: ShotColumn): readonly string[] {
  const map = view.session?.columns.find((each) => each.column === column);
  return map === undefined ? [] : [`Read from ${nameInCode(map.header)}`, ...aboutHeader(view, map.header).slice(1)];
}

function aboutValue(view: SessionView, place: SessionPlace): readonly string[] {
  const { scalar, path } = place;
  const measure = otherUnits(scalar.text);
  if (measure !== null) return [measure];
  for (const shape of shapesAt(path)) {
    const parts = aboutName(view, place, shape);
    if (parts.length > 0) return parts;
  }
  const key = path.findLast((each) => each !== null);
  const parent = key === undefined || key === null ? [] : shapesAt(path.slice(0, path.lastIndexOf(key)));
  const map = parent.find((shape) => shape.kind === "map" && key !== undefined && key !== null && Object.hasOwn(sessionKeyHelp[shape.map], key));
  return map?.kind === "map" && typeof key === "string" ? keyHelp(map.map, path.slice(0, path.lastIndexOf(key)), key) : [];
}

function aboutName(view: SessionView, place: SessionPlace, shape: Shape): readonly string[] {
  const { text } = place.scalar;
  if (shape.kind === "choice") return isShotColumn(text) ? aboutColumn(view, text) : [];
  if (shape.kind !== "name") return [];
  switch (shape.of) {
    case "header":
      return aboutHeader(view, text);
    case "column or header":
      return isShotColumn(text) ? aboutColumn(view, text) : aboutHeader(view, text);
    case "head":
      return [`**${nameInCode(text)}**: a head`, headMarkdown(text, view.shots?.sessions ?? [])];
    case "value":
      return siblingText(place, "column") === "head" ? [`**${nameInCode(text)}**: a head`, headMarkdown(text, view.shots?.sessions ?? [])] : [];
    case "export":
      return aboutExport(view, text);
    case "unit":
      return aboutUnit(text);
    default:
      return [];
  }
}

/** A header of the exports: what is read from it, and its first values in each export. */
function aboutHeader(view: SessionView, name: string): readonly string[] {
  const there = view.exports.flatMap(({ path, headers }) => headers.filter((header) => header.name === name).map(({ values }) => ({ path, values })));
  if (there.length === 0) return [];
  const column = mappedHeaders(view.session).get(name);
  const title = `**${nameInCode(name)}**: a column of the export${column === undefined ? "" : `, read as ${nameInCode(column)}`}`;
  return [title, there.map(({ path, values }) => `${nameInCode(path)}: ${values.length === 0 ? "no values" : values.map(nameInCode).join(", ")}`).join("  \n")];
}

function aboutExport(view: SessionView, file: string): readonly string[] {
  const path = resolvePath(folderOf(view.path), file).value;
  const profile = view.exports.find((each) => each.path === path);
  if (profile === undefined) return [];
  const { rowCount, headers } = profile;
  return [`**${nameInCode(profile.path)}**: ${rowCount} ${rowCount === 1 ? "shot" : "shots"}`, `Columns: ${headers.map(({ name }) => nameInCode(name)).join(", ")}`];
}

function aboutUnit(text: string): readonly string[] {
  const unit = parseUnit(text);
  if (unit === undefined) return [];
  const [, other] = unitsBeside(unit);
  const inOther = other === undefined ? "" : `; ${inUnit(1, unit, unit)} is ${inUnit(1, unit, other)}`;
  return [`**${nameInCode(unit)}**: unit of ${escaped(measuredBy(unit))}${escaped(inOther)}`, `Source of the factor: ${escaped(units[unit].source)}`];
}

/** A measure in other units; `null` for what is no measure. */
function otherUnits(text: string): string | null {
  const measure = parseMeasure(text);
  if (measure === undefined) return null;
  const { value, unit } = measure;
  const others = unitsBeside(unit).filter((other) => other !== unit && isConvertible(unit, other));
  return `**${nameInCode(inUnit(value, unit, unit))}**: ${escaped([measuredBy(unit), ...others.map((other) => inUnit(value, unit, other))].join(", "))}`;
}

/** A measure in another unit, to four digits. */
function inUnit(value: number, from: Unit, to: Unit): string {
  const converted = from === to ? value : Number(convert(value, from, to).toPrecision(4));
  return formatMeasure(converted, digitsAsStated(converted), to);
}

