import { closestName } from "../closest-name";
import type { Fix, Problem } from "../problem";
import { problem } from "../problem";
import type { TextColumn } from "../table/table";
import { textStart, type TextRange } from "../text-position";
import { yamlScalar } from "../yaml-scalar";
import { headDefaults } from "./head-defaults";
import type { Session } from "./session";
import type { HeadBuild } from "./session-facts";

/** The column of heads under the session's own names, and the build of every head in it. */
export interface NamedHeads {
  readonly column: TextColumn;
  /** All heads that the session describes, then those it does not, taken for irons. */
  readonly heads: readonly HeadBuild[];
  /** The build of each label of the column. */
  readonly builds: readonly HeadBuild[];
  readonly problems: readonly Problem[];
}

/**
 * Gives the heads of the export the names that the session has for them, and reports heads that it does not describe.
 *
 * @param place where a row's head stands in its export, with the file.
 */
export function nameHeads(column: TextColumn, session: Session, place: (row: number) => { readonly range: TextRange; readonly file?: string }): NamedHeads {
  const names = new Map(session.heads.flatMap((head) => [head.name, ...head.called].map((name) => [name, head] as const)));
  const problems: Problem[] = [];
  const assumed = new Map<string, HeadBuild>();
  const builds: HeadBuild[] = [];
  const codes = new Map<HeadBuild, number>();
  const counts = new Int32Array(column.labels.length);
  for (const code of column.codes) if (code >= 0) counts[code]!++;
  const codeOf = Int32Array.from(column.labels, (label, code) => {
    if (counts[code] === 0) return -1;
    const described = names.get(label);
    const build = described === undefined ? (assumed.get(label) ?? assumedIron(label)) : buildOf(described);
    if (described === undefined) assumed.set(label, build);
    const known = [...codes.keys()].find((each) => each.name === build.name);
    if (known !== undefined) return codes.get(known)!;
    codes.set(build, builds.length);
    return builds.push(build) - 1;
  });
  const known = session.heads.map((head) => head.name);
  const misspelt = new Map<string, string>();
  if (session.heads.length === 0 && assumed.size > 0) problems.push(problem("session.no-heads", { heads: [...assumed.keys()] }, textStart));
  else {
    for (const label of assumed.keys()) {
      const code = column.labels.indexOf(label);
      const near = closestName(label, [...names.keys()]) ?? undefined;
      if (near !== undefined) misspelt.set(near, misspelt.get(near) ?? label);
      const facts = { head: label, shots: counts[code]!, heads: known, ...(near === undefined ? {} : { near }) };
      const stated = statedPlace(session, label);
      const at = stated === null ? place(column.codes.indexOf(code)) : { range: stated };
      const fix = stated === null || near === undefined ? {} : { fix: { title: `Write ${near}`, edits: [{ range: stated, text: yamlScalar(near, "flow") }] } };
      problems.push(problem("session.unknown-head", facts, at.range, { ...fix, ...(at.file === undefined ? {} : { file: at.file }) }));
    }
  }
  for (const head of session.heads) {
    if (builds.some((build) => build.name === head.name)) continue;
    const near = misspelt.get(head.name);
    if (near === undefined) problems.push(problem("session.head-not-hit", { head: head.name }, head.nameRange));
    else problems.push(problem("session.head-misspelt", { head: head.name, near, shots: counts[column.labels.indexOf(near)]! }, head.nameRange, renaming(near, head.nameRange)));
  }
  return {
    column: {
      ...column,
      codes: column.codes.map((code) => (code < 0 ? -1 : codeOf[code]!)),
      labels: builds.map((build) => build.name),
    },
    heads: [...session.heads.map(buildOf), ...assumed.values()],
    builds,
    problems,
  };
}

/** The fix that gives a head the name that the export has for it; which of the two is right, only a person knows. */
function renaming(name: string, range: TextRange): { readonly fix: Fix } {
  return { fix: { title: `Call it ${name}`, edits: [{ range, text: yamlScalar(name, "flow") }], byPerson: true } };
}

/** Where the session itself gives shots a head of that name: beside a file, or as a correction; `null` where it does not. */
function statedPlace(session: Session, name: string): TextRange | null {
  const source = session.sources.find(({ head }) => head === name);
  const correction = session.corrections.find(({ column, value }) => column === "head" && value === name);
  return source?.headRange ?? correction?.valueRange ?? null;
}

/** What is known of a head whatever the exports call it. */
function buildOf({ called: _called, nameRange: _range, referenceAssumed: _assumed, ...build }: Session["heads"][number]): HeadBuild {
  return build;
}

function assumedIron(name: string): HeadBuild {
  return { name, kind: "iron", strikeReference: headDefaults.iron.strikeReference };
}
