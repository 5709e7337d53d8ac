import { oneOf, problemKind as kind, quoted, shown } from "../problem-kind";
import { sideLetters } from "../table/side-letters";

const meant = (near: string | undefined, otherwise: string): string => (near === undefined ? otherwise : `did you mean ${near}? ${otherwise}`);

const saysRenumbered = (f: { header: string; reason: string; count: number }): string =>
  `the shots are numbered 1 to ${f.count} in hitting order and not as in the column ${shown(f.header)}: ${f.reason}`;

/** What can be wrong with a session file, by itself or together with its exports. */
export const sessionProblems = {
  "session.not-a-session": kind(
    "error",
    () => "this is not a session: a session is a map of keys and values",
    () => "begin with session: NAME, then sources, columns and heads",
  ),
  "session.wrong-shape": kind(
    "error",
    (f: { what: string; wanted: string; found: string }) => (f.found === "empty" ? `${f.what} is empty` : `${f.what} is ${f.found}, not ${f.wanted}`),
    (f) => `write ${f.wanted}`,
  ),
  "session.unknown-key": kind(
    "error",
    (f: { key: string; where: string; keys: readonly string[]; near?: string }) => `${shown(f.key)} means nothing in ${f.where}`,
    (f) => meant(f.near, `the keys are ${oneOf(f.keys, 30)}`),
  ),
  "session.missing-key": kind(
    "error",
    (f: { key: string; where: string }) => `${f.where} has no ${f.key}`,
    (f) => `write ${f.key}: …`,
  ),
  "session.no-reason": kind(
    "error",
    (f: { where: string }) => `${f.where} has no reason`,
    () => "write because: and, in words, what speaks against the value; nothing is set aside or changed without one",
  ),
  "session.wrong-choice": kind(
    "error",
    (f: { what: string; text: string; choices: readonly string[]; near?: string }) => `${shown(f.text)} is not an accepted ${f.what}`,
    (f) => meant(f.near, `one of ${oneOf(f.choices, 60)}`),
  ),
  "session.wrong-number": kind(
    "error",
    (f: { what: string; text: string; wanted: string }) => `${shown(f.text)} is not what ${f.what} can be`,
    (f) => f.wanted,
  ),
  "session.wrong-measure": kind(
    "error",
    (f: { what: string; text: string; units: readonly string[] }) => `${shown(f.text)} is not what ${f.what} can be`,
    (f) => (f.units.length === 0 ? "a plain number" : `a number and its unit, such as 3 ${f.units[0] ?? ""}; the units are ${oneOf(f.units)}`),
  ),
  "session.wrong-unit": kind(
    "error",
    (f: { what: string; text: string; units: readonly string[] }) =>
      f.units.length === 0 ? `${f.what} has no unit, so ${f.text === "" ? "one" : shown(f.text)} means nothing here` : `${shown(f.text)} is not a unit of ${f.what}`,
    (f) => (f.units.length === 0 ? "leave it out" : `one of ${oneOf(f.units)}`),
  ),
  "session.implausible": kind(
    "warning",
    (f: { what: string; text: string; low: string; high: string }) => `${shown(f.text)} is not a plausible ${f.what}`,
    (f) => `${f.low} to ${f.high}`,
  ),
  "session.limits-crossed": kind(
    "error",
    (f: { what: string; low: string; high: string }) => `the limits of ${f.what} are crossed: nothing is above ${f.low} and below ${f.high}`,
    () => "the lower limit first: [50 yd, 250 yd]",
  ),
  "session.counted-column": kind(
    "error",
    (f: { column: string }) => `${f.column} is counted or computed here and is not read from an export`,
    () => "leave it out",
  ),
  "session.sides": kind(
    "error",
    (f: { text: string; column: string; positive: string; negative: string }) => `${shown(f.text)} does not say which side of ${f.column} is which`,
    (f) =>
      `${sideLetters([f.positive, f.negative])} for ${f.negative} and ${f.positive}; with other letters a map: { ${f.negative}: X, ${f.positive}: Y }`,
  ),
  "session.no-direction": kind(
    "error",
    (f: { column: string; key: string }) => `${f.column} has no direction, so ${f.key} means nothing here`,
    () => "leave it out",
  ),
  "session.shots": kind(
    "error",
    (f: { text: string }) => `${shown(f.text)} names no shots`,
    () => "shots by their number: 41, or 1-6, or a list of such: [1-6, 41]",
  ),
  "session.no-such-shot": kind(
    "error",
    (f: { shots: string; count: number; first: number; last: number; fromExport: boolean }) =>
      `there ${f.count === 1 ? `is 1 shot in this session, number ${f.first}` : `are ${f.count} shots in this session, numbered ${f.first} to ${f.last}`}; of ${f.shots} not all are there`,
    (f) => (f.fromExport ? "shots go by the numbers that the export gives them" : "shots count in hitting order from 1"),
  ),
  "session.renumbered": kind("info", saysRenumbered, () => "the export's numbers are kept under their header"),
  "session.lists-renumbered": kind(
    "warning",
    saysRenumbered,
    () => "shots, breaks, corrections and set_aside name shots by the column shot of the table; look there whether they name the right ones",
  ),
  "session.overlap": kind(
    "error",
    (f: { what: string; shot: number; first: number }) => `shot ${f.shot} has its ${f.what} stated already, on line ${f.first}`,
    () => "state it once; what is stated later counts",
  ),
  "session.stated-twice": kind(
    "error",
    (f: { what: string; name: string; first: string }) => `the ${f.what} ${shown(f.name)} is used already, by ${f.first}`,
    () => "each belongs to one",
  ),
  "session.unknown-header": kind(
    "error",
    (f: { header: string; column: string; file: string; headers: readonly string[]; near?: string }) => `${shown(f.file)} has no column called ${shown(f.header)}`,
    (f) => meant(f.near === undefined ? undefined : shown(f.near), `its columns are ${oneOf(f.headers.map(shown), 30)}`),
  ),
  "session.no-such-column": kind(
    "error",
    (f: { column: string; columns: readonly string[]; near?: string }) => `there is no column ${shown(f.column)} in this session's exports`,
    (f) => meant(f.near, `the columns are ${oneOf(f.columns, 40)}`),
  ),
  "session.no-unit": kind(
    "error",
    (f: { column: string; header: string; units: readonly string[] }) => `nothing tells the unit of ${f.column}`,
    (f) => `${f.column}: { from: ${JSON.stringify(f.header)}, unit: ${f.units[0] ?? ""} }; the units are ${oneOf(f.units)}`,
  ),
  "session.unit-assumed": kind(
    "info",
    (f: { column: string; unit: string }) => `nothing tells the unit of ${f.column}; it is read as ${f.unit}`,
    (f) => `state it to be sure: unit: ${f.unit}`,
  ),
  "session.direction-assumed": kind(
    "info",
    (f: { columns: readonly string[]; positive: readonly string[] }) =>
      `nothing tells which way positive numbers of ${oneOf(f.columns)} go; they are read as ${oneOf(f.positive)}`,
    (f) => `state it to be sure, under the column: positive: ${f.positive[0] ?? ""}, or with letters sides: L/R, T/H, U/D`,
  ),
  "session.reference-assumed": kind(
    "info",
    (f: { heads: readonly string[]; x: string; y: string }) =>
      `no strike reference is stated for ${oneOf(f.heads)}: a centred strike is taken to be at ${f.x} across and ${f.y} up from the monitor's origin, as is common for the kind of head`,
    (f) => `strikes and zones count from there; state it under the head: strike_reference: { x: ${f.x}, y: ${f.y} }, or { x: 0 mm, y: 0 mm } where the monitor's origin is the centred strike`,
  ),
  "session.no-head": kind(
    "error",
    (f: { file: string }) => `nothing tells which head was hit in ${shown(f.file)}`,
    () => "map a column (head: …) under columns, or write head: NAME beside the file when it holds one head",
  ),
  "session.head-contradicted": kind(
    "error",
    (f: { head: string; shots: number; stated: string }) =>
      `${f.shots === 1 ? "1 shot has" : `${f.shots} shots have`} the head ${shown(f.head)} here, but ${shown(f.stated)} is stated for the whole file; it counts`,
    (f) =>
      quoted(f.head) === null
        ? "state the right head under corrections, with the reason"
        : `if it is another name of ${f.stated}, write called: [${quoted(f.head)!}] under that head; if not, take head: away beside the file, or correct these shots with a reason`,
  ),
  "session.unknown-head": kind(
    "error",
    (f: { head: string; shots: number; heads: readonly string[]; near?: string }) =>
      `the head ${shown(f.head)} (${f.shots} ${f.shots === 1 ? "shot" : "shots"}) is not described in the session`,
    (f) =>
      meant(
        f.near,
        `the session's heads are ${oneOf(f.heads)}; add it under heads${quoted(f.head) === null ? "" : `, or give the head it is another name: called: [${JSON.stringify(f.head)}]`}`,
      ),
  ),
  "session.head-not-named": kind(
    "warning",
    (f: { shots: number; first: number }) => f.shots === 1 ? `1 shot has no head: shot ${f.first}` : `${f.shots} shots have no head, the first of them shot ${f.first}`,
    () => "state it under corrections, with the reason",
  ),
  "session.no-heads": kind(
    "warning",
    (f: { heads: readonly string[] }) => `no head is described; ${oneOf(f.heads)} ${f.heads.length === 1 ? "is" : "are"} taken for irons`,
    () => "heads: { NAME: { kind: iron, loft: 34 deg } }, with kind iron, wedge or wood",
  ),
  "session.head-not-hit": kind(
    "info",
    (f: { head: string }) => `no shot was hit with ${shown(f.head)}`,
    () => "nothing is wrong with that",
  ),
  "session.head-misspelt": kind(
    "warning",
    (f: { head: string; near: string; shots: number }) => `no shot was hit with ${shown(f.head)}; ${f.shots} ${f.shots === 1 ? "was" : "were"} hit with ${shown(f.near)}, which is not described`,
    (f) => `did you mean ${f.near}? or, if it is the same head under another name: called: [${JSON.stringify(f.near)}]`,
  ),
  "session.order-unknown": kind(
    "warning",
    (f: { file: string }) => `nothing tells in which order the shots of ${shown(f.file)} were hit`,
    () => "write order: shot, order: time, or order: file when the file is in hitting order; without it no stints are known",
  ),
  "session.order": kind(
    "error",
    (f: { order: string; file: string; reason: string }) => `${shown(f.file)} cannot be put in order by ${f.order}: ${f.reason}`,
    () => "map a column that tells the order (shot, or a time with its date or AM and PM), or write order: file when the file is in hitting order",
  ),
  "session.past-midnight": kind(
    "info",
    (f: { file: string }) => `the times of ${shown(f.file)} go past midnight: the shots after the longest pause of the day come first`,
    () => "a date beside the time would say it",
  ),
  "session.not-mapped": kind(
    "info",
    (f: { name: string; column: string }) => `the column ${shown(f.name)} may be ${f.column}; nothing says so, and it is kept under its own name`,
    (f) => `to use it, map it under columns: ${f.column}: ${JSON.stringify(f.name)}`,
  ),
  "session.name-taken": kind(
    "warning",
    (f: { name: string; instead: string }) => `the column ${shown(f.name)} of the export has the name of another column; it is kept as ${shown(f.instead)}`,
    () => "map it under columns if it is the one that is meant",
  ),
  "session.two-players": kind(
    "warning",
    (f: { players: readonly string[] }) => `shots of several players are together here: ${oneOf(f.players)}`,
    () => "compare heads within one player: filter by player, or group by it",
  ),
  "session.cannot-edit": kind(
    "error",
    () => "set_aside cannot be extended as it is written here, and nothing was changed",
    () => "write it as a list, an entry a line: - { shot: 41, column: carry, because: … }",
  ),
  "session.set-aside-already": kind(
    "info",
    (f: { count: number }) => (f.count === 1 ? "1 of these values is set aside already" : `${f.count} of these values are set aside already`),
    () => "an entry is written once; to change its reason, change it in the session file",
  ),
  "session.sign-doubted": kind(
    "warning",
    (f: { column: string; reasons: readonly string[]; header: string; positive: string }) =>
      `positive numbers of ${f.column} seem to mean ${f.positive}: ${f.reasons.join("; ")}`,
    (f) => `if so, write positive: ${f.positive} under columns: ${f.column}: { from: ${JSON.stringify(f.header)}, positive: ${f.positive} }; letters for the sides would have to be named the other way round`,
  ),
  "session.signs-contradict": kind(
    "warning",
    (f: { columns: readonly string[]; reasons: readonly string[] }) => `the signs of ${f.columns.join(", ")} contradict one another: ${f.reasons.join("; ")}`,
    () => "look up what positive numbers mean in the export, and write positive: left or positive: right under the column that has it the other way; the shots alone do not tell which",
  ),
  "session.unit-doubted": kind(
    "warning",
    (f: { column: string; unit: string; instead: string; header: string; why: string; isExport: boolean }) => `${f.column} does not fit in ${f.unit}: ${f.why}`,
    (f) =>
      f.isExport
        ? `the export itself states ${f.unit}, which a session cannot overrule: look whether ${shown(f.header)} is the column that is meant, and what the monitor was set to`
        : `look up what the monitor was set to; if it is ${f.instead}, write it under columns: ${f.column}: { from: ${JSON.stringify(f.header)}, unit: ${f.instead} }`,
  ),
  "session.unit-unclear": kind(
    "warning",
    (f: { columns: readonly string[]; why: string; options: readonly string[] }) => `the units of ${f.columns.join(", ")} do not fit one another: ${f.why}`,
    (f) => `look up what the monitor was set to: ${f.options.join(", or ")} would fit; state it under columns, with unit:`,
  ),
} as const;
