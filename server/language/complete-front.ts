import { frontMatterKeyHelp, frontMatterKeys, marginColumns, type FrontMatterKey } from "../../core/notebook/front-matter-keys";
import { marginOf } from "../../core/session/margin";
import { isShotColumn, shotColumns, type ShotColumn } from "../../core/table/shot-columns";
import { unitFor, unitsBeside, unitSystems, type Measure, type UnitSystem } from "../../core/units";
import { folderOf, resolvePath } from "../../core/path";
import { yamlScalar } from "../../core/yaml-scalar";
import type { Suggestion } from "./answers";
import { choiceOffersInFront } from "./complete-choices";
import { frontPlace, type FrontPlace } from "./front-place";
import { escaped } from "./markdown";
import type { NotebookView } from "./notebook-view";
import { sessionsMarkdown, sessionsOf } from "./session-markdown";
import { sessionPaths } from "./session-paths";
import type { LooseNode } from "./session-text";

/** What is written, before it is fitted to its place; `insert` is as it stands in YAML without quotes around. */
type Offer = Omit<Suggestion, "replace">;

const snippets: Readonly<Record<FrontMatterKey, string>> = {
  fairstrike: "fairstrike: ${1:1}",
  title: "title: $1",
  shots: "shots: $1",
  units: `units: \${1:${unitSystems[0]!}}`,
  margin: "margin: { ${1:carry}: ${2:3} yd }",
  choose: "choose:\n  ${1:head}: { of: ${2:head}, is: ${3:any} }",
  seed: "seed: ${1:1}",
};

/** What can stand at `offset` in front matter: its keys, and the values of each; nothing in a comment or a title. */
export async function completeFront(view: NotebookView, cell: number, offset: number): Promise<readonly Suggestion[]> {
  const found = frontPlace(view.cells[cell]!.text, offset);
  if (found === null) return [];
  const offers = await offersAt(view, found);
  const { span, close, lead } = found;
  return offers.map((offer) => ({ ...offer, replace: span, insert: `${lead}${offer.insert}${close}` }));
}

async function offersAt(view: NotebookView, found: FrontPlace): Promise<readonly Offer[]> {
  const { role, path } = found.place;
  const [key, column] = path;
  if (key === undefined) return role === "key" ? keys(found) : [];
  if (key === "shots") return sessions(view, found);
  if (key === "choose") return choiceOffersInFront(view, found);
  if (key === "margin") return column === undefined ? (role === "key" ? marginKeys(view, found) : wholeMargins(view, found)) : marginValues(view, found, column ?? "");
  if (role !== "value") return [];
  if (key === "units") return unitSystems.map((system): Offer => ({ label: system, kind: "choice", insert: system, detail: systemInWords(system) }));
  return key === "fairstrike" ? [{ label: "1", kind: "choice", insert: "1", detail: frontMatterKeyHelp.fairstrike }] : [];
}

function keys({ place: { around, entry, scalar } }: FrontPlace): readonly Offer[] {
  const given = new Set(keysOf(around.at(-1), entry));
  const isName = entry?.hasColon === true || scalar.quote !== "";
  return frontMatterKeys
    .filter((key) => !given.has(key))
    .map((key): Offer => ({ label: key, kind: "key", insert: isName ? key : snippets[key], detail: frontMatterKeyHelp[key], ...(isName ? {} : { isSnippet: true as const }) }));
}

/** The keys of a map but for the one that is being written. */
function keysOf(map: LooseNode | undefined, except: FrontPlace["place"]["entry"]): readonly string[] {
  return map?.kind === "map" ? map.entries.filter((entry) => entry !== except).map(({ key }) => key.text) : [];
}

/** Session files and the patterns for all of a folder, those that are not named yet first. */
async function sessions(view: NotebookView, { place, span, typed }: FrontPlace): Promise<readonly Offer[]> {
  const { scalar, around, role, path } = place;
  if (role === "key" && path.length > 1) return [];
  const { files, patterns } = await sessionPaths(view, typed);
  const all = around.at(-1);
  const others = all?.kind === "list" ? all.items.flatMap((item) => (item?.kind === "scalar" && item !== scalar ? [item.text] : [])) : [];
  const style = all?.isFlow === true ? "flow" : "block";
  const write = (text: string): string => (scalar.quote === "" ? yamlScalar(text, style) : scalar.quote === "'" ? text.replaceAll("'", "''") : JSON.stringify(text).slice(1, -1));
  const known = sessionsOf(view);
  return [...new Set([...files, ...patterns])]
    .filter((text) => !others.includes(text))
    .map((text): Offer => {
      const isPattern = text.endsWith("*.session.yaml");
      const behind = sessionsBehind(view, text, known);
      return {
        label: text,
        kind: "file",
        insert: write(text),
        rank: isPattern ? 1 : 0,
        ...(span.from === span.to ? {} : { filter: text }),
        ...(isPattern ? { detail: "all sessions of the folder" } : {}),
        ...(behind.length === 0 ? {} : { documentation: sessionsMarkdown(behind) }),
      };
    });
}

/** Those of the sessions that a path or a pattern of the front matter names. */
export function sessionsBehind<S extends { readonly file: string }>(view: NotebookView, text: string, all: readonly S[]): readonly S[] {
  const pattern = /^(.*\/)?\*\.session\.yaml$/u.exec(text);
  const base = folderOf(view.path);
  if (pattern === null) return all.filter(({ file }) => file === resolvePath(base, text).value);
  const folder = resolvePath(base, (pattern[1] ?? ".").replace(/(.)\/$/u, "$1")).value;
  return all.filter(({ file }) => folderOf(file) === folder);
}

function marginKeys(view: NotebookView, { place: { around, entry } }: FrontPlace): readonly Offer[] {
  const given = new Set(keysOf(around.at(-1), entry));
  return offeredMargins(view)
    .filter(({ column }) => !given.has(column))
    .map(({ column, measure, rank, detail }): Offer => ({
      label: column,
      kind: "column",
      insert: entry?.hasColon === true ? column : `${column}: ${inWords(measure)}`,
      detail,
      documentation: escaped(shotColumns[column].description),
      rank,
    }));
}

function wholeMargins(view: NotebookView, { typed }: FrontPlace): readonly Offer[] {
  if (typed !== "") return [];
  return offeredMargins(view).map(({ column, measure, rank, detail }): Offer => {
    const insert = `{ ${column}: ${inWords(measure)} }`;
    return { label: insert, kind: "snippet", insert, detail, rank };
  });
}

/** Each column that can have a margin, with its default; with 1 of its unit where it has none. */
function offeredMargins(view: NotebookView): readonly { column: ShotColumn; measure: Measure; rank: number; detail: string }[] {
  return marginColumns.map((column) => {
    const usual = defaultMargin(view, column);
    const { quantity } = shotColumns[column];
    const measure = usual?.measure ?? { value: 1, unit: unitFor(quantity!, view.notebook.front.units) };
    return { column, measure, rank: usual === null ? 1 : 0, detail: usual === null ? "no usual margin" : `${inWords(usual.measure)}: ${usual.source}` };
  });
}

function marginValues(view: NotebookView, { typed }: FrontPlace, column: string): readonly Offer[] {
  const quantity = isShotColumn(column) ? shotColumns[column].quantity : null;
  if (quantity === null) return [];
  const number = /^\d+(?:\.\d+)?/u.exec(typed.trim())?.[0];
  const usual = defaultMargin(view, column);
  const unit = unitFor(quantity, view.notebook.front.units);
  if (number !== undefined) return unitsBeside(unit).map((each): Offer => ({ label: `${number} ${each}`, kind: "unit", insert: `${number} ${each}` }));
  if (usual !== null) return [{ label: inWords(usual.measure), kind: "unit", insert: inWords(usual.measure), detail: usual.source }];
  return [{ label: `1 ${unit}`, kind: "unit", insert: `1 ${unit}`, detail: "no usual margin" }];
}

/** The margin of a column where the notebook states none, and whose it is; `null` for a column that has none. */
export function defaultMargin(view: NotebookView, column: string): { readonly measure: Measure; readonly source: string } | null {
  const all = sessionsOf(view);
  const measure = marginOf(column, {}, all);
  if (measure === null) return null;
  const isStated = all.some(({ margins }) => Object.hasOwn(margins, column));
  return { measure, source: isStated ? "stated by the session" : "common practice, no source" };
}

/** A measure as it is written in a file: `3 yd`. */
export function inWords({ value, unit }: Measure): string {
  return `${value} ${unit}`;
}

/** The units of a system, in words: `carry in yd, speed in mph, height in ft`. */
export function systemInWords(system: UnitSystem): string {
  return `carry in ${unitFor("distance", system)}, speed in ${unitFor("speed", system)}, height in ${unitFor("height", system)}`;
}
