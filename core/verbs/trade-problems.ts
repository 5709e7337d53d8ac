import { oneOf, problemKind as kind, shown } from "../problem-kind";

/** What cannot be made sure of without a column. */
const lost: Readonly<Record<string, string>> = {
  intent: "shots that are no stock shots, such as warm-up, cannot be left out",
  player: "whether one player hit all shots is not known",
  shot: "whether a shot is here twice is not known",
};

const listOf = (names: readonly string[]): string => (names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)!}`);

/** What can be wrong when a verb of the trade is asked a question that its table cannot answer. */
export const tradeProblems = {
  "trade.no-group-column": kind(
    "error",
    (f: { name: string; candidates: readonly string[] }) => `the table has no column ${f.name}, so that it is not known what to tell apart`,
    (f) => (f.candidates.length === 0 ? "it has no other column of text either" : `name the column: by: ${f.candidates.map((name) => JSON.stringify(name)).join(" or ")}`),
  ),
  "trade.grouped": kind(
    "error",
    (f: { verb: string; columns: readonly string[] }) => `${f.verb} does not work within the groups of ${f.columns.join(", ")}`,
    (f) => `say what to tell apart: .ungroup().${f.verb}({ by: ${JSON.stringify(f.columns[0] ?? "head")}, … }), or filter to one of them first`,
  ),
  "trade.no-shots": kind(
    "error",
    (f: { by: string; rows: number }) => (f.rows === 0 ? "no shots are left here" : `no row has a ${f.by}`),
    (f) => (f.rows === 0 ? "look at the filter before this step: it asks for what no shot has" : `tell apart by another column, or look at why ${f.by} is missing`),
  ),
  "trade.one-group": kind(
    "error",
    (f: { by: string; name: string }) => `there is only one ${f.by} here, ${shown(f.name)}, and nothing to compare it with`,
    (f) => `rows of two or more are needed; describe() takes one ${f.by} at a time`,
  ),
  "trade.too-many-groups": kind(
    "error",
    (f: { by: string; count: number; most: number }) => `${f.by} has ${f.count} values here; no more than ${f.most} are told apart at once here`,
    (f) => `keep up to ${f.most}: .filter(d => op.any_of(${/^[A-Za-z_]\w*$/.test(f.by) ? `d.${f.by}` : `d[${JSON.stringify(f.by)}]`}, …)), or tell apart by a column with fewer values`,
  ),
  "trade.several-players": kind(
    "error",
    (f: { players: readonly string[] }) => `these shots are of ${f.players.length} players: ${f.players.join(", ")}; they are not taken together`,
    (f) => `choose one: .filter(d => d.player === ${JSON.stringify(f.players[0] ?? "")}), or tell them apart: by: "player"`,
  ),
  "trade.repeated-shots": kind(
    "error",
    (f: { count: number; shot: number; session: string }) =>
      `${f.count} ${f.count === 1 ? "row repeats a shot" : "rows repeat shots"} that the table already has, first shot ${f.shot} of ${f.session}: a shot counts once`,
    () => "concat with a table of the same shots, and a join whose key is in several rows, repeat shots; leave it out, or keep each shot once: .dedupe(\"session\", \"shot\")",
  ),
  "trade.lost-columns": kind(
    "warning",
    (f: { columns: readonly string[] }) => `the table no longer has ${listOf(f.columns)}: ${f.columns.flatMap((name) => lost[name] ?? []).join("; ")}`,
    (f) => `keep ${f.columns.length === 1 ? "this column" : "these columns"}: name ${f.columns.map((name) => JSON.stringify(name)).join(", ")} in select as well`,
  ),
  "trade.not-shots": kind(
    "error",
    (f: { verb: string }) => `these rows are no shots any more but summaries of shots, and ${f.verb} works on shots`,
    (f) => `use ${f.verb} before rollup, count, pivot or fold: it does the grouping itself`,
  ),
  "trade.computed-stint": kind(
    "error",
    () => "the column stint was computed here, and stints are counted from the hitting order of the session",
    () => "give the computed column another name; a marked break is stated in the session file: breaks: [25]",
  ),
  "trade.no-session-column": kind(
    "error",
    (f: { sessions: readonly string[] }) => `these shots are of ${f.sessions.length} sessions (${oneOf(f.sessions)}), and the table no longer says which shot is of which`,
    () => "keep the column session",
  ),
  "trade.no-margin": kind(
    "error",
    (f: { column: string; unit: string; example: number; inFrontMatter: boolean; known: readonly string[] }) => `it is not known which difference in ${shown(f.column)} is too small to matter`,
    (f) =>
      f.unit === ""
        ? `give the option margin as a plain number, since the column has no unit: margin: ${f.example}`
        : `give the option margin with its unit in quotes: margin: "${f.example} ${f.unit}"${f.inFrontMatter ? `, or state it in the front matter: margin: { ${f.column}: ${f.example} ${f.unit} }; ${oneOf(f.known)} have a default` : ""}`,
  ),
  "trade.margin-unread": kind(
    "error",
    (f: { where: string; unit: string; example: number }) => `${f.where} states a margin that cannot be read, and no other stands in for it: no verdict is given`,
    (f) => `correct it there, or give the option margin here: margin: ${f.unit === "" ? f.example : `"${f.example} ${f.unit}"`}`,
  ),
  "trade.bad-margin": kind(
    "error",
    (f: { margin: string }) => `a margin of ${f.margin} cannot be: every difference would matter`,
    () => "a margin is above 0: the largest difference that does not matter to a player",
  ),
  "trade.margin-unit": kind(
    "error",
    (f: { margin: string; column: string; unit: string; where: string }) => `the margin ${f.margin} of ${f.where} does not fit ${shown(f.column)}, which is in ${f.unit}`,
    (f) => `state it in a unit that converts to ${f.unit}`,
  ),
  "trade.margins-differ": kind(
    "error",
    (f: { column: string; margins: readonly string[] }) => `the sessions state different margins for ${shown(f.column)}: ${f.margins.join(", ")}`,
    () => "give the option margin, or state one margin in the notebook's front matter",
  ),
  "trade.order-unknown": kind(
    "warning",
    (f: { by: string }) => `order unknown: intervals for each ${f.by} assume independent shots and are likely too narrow, and no verdict is given`,
    () => "say in the session which column tells the hitting order, and keep the columns session and stint",
  ),
  "trade.unequal-missing": kind(
    "warning",
    (f: { column: string; rates: readonly string[] }) => `${shown(f.column)} is missing at different rates (${f.rates.join(", ")}): whatever made it missing may bias the comparison`,
    () => "look at the shots whose value is missing",
  ),
  "trade.sessions-differ": kind(
    "warning",
    (f: { by: string; names: readonly string[] }) => `${f.names.join(", ")} are not all in the same sessions: a pair is compared only within sessions that have shots of both`,
    (f) => `for a fair comparison have shots of every ${f.by} in every session`,
  ),
  "trade.workability-columns": kind(
    "error",
    (f: { missing: readonly string[] }) => `workability is about spin axis and face-to-path, and the table has no ${listOf(f.missing)}`,
    (f) =>
      f.missing.includes("face_to_path")
        ? "face_to_path is worked out where the session's columns name face_angle and club_path; keep it when you select"
        : "name spin_axis, or back_spin and side_spin, in the session's columns; keep it when you select",
  ),
  "trade.no-readings": kind(
    "error",
    () => "no column of readings has a value here",
    (f: { candidates: readonly string[] }) => `name the columns to tell of: of: [${f.candidates.slice(0, 3).map((name) => JSON.stringify(name)).join(", ")}]; columns of numbers are ${oneOf(f.candidates)}`,
  ),
  "trade.nothing-to-follow": kind(
    "error",
    (f: { usual: readonly string[]; candidates: readonly string[] }) => `the table has none of ${listOf(f.usual)}, which are followed unless another column is named`,
    (f) => (f.candidates.length === 0 ? "it has no column of numbers at all" : `name a column of numbers: of: ${JSON.stringify(f.candidates[0])}`),
  ),
  "trade.drift-without-order": kind(
    "error",
    (f: { sessions: readonly string[] }) =>
      f.sessions.length > 0
        ? `the hitting order of ${listOf(f.sessions)} is not known, and without it nothing can be said of a change in the course of time`
        : "the table no longer has the column stint, and without it nothing can be said of a change in the course of time",
    (f) => (f.sessions.length > 0 ? "say in the session file which column tells the order: sources: [{ file: …, order: shot }]" : "keep the column stint: name it in select as well"),
  ),
  "trade.too-many-stints": kind(
    "error",
    (f: { session: string; count: number; most: number }) => `the session ${shown(f.session)} has ${f.count} stints here; no more than ${f.most} are looked at for a change`,
    () => "filter the rows to one day first",
  ),
  "trade.no-strikes": kind(
    "error",
    (f: { missing: readonly string[] }) => `the table has no ${oneOf(f.missing)} in a unit of length, and where the face was hit is what this is about`,
    () => "map strike_x and strike_y in the session's columns, and name them in select as well",
  ),
  "trade.no-loss-column": kind(
    "error",
    (f: { name: string }) => `the table has no column of numbers ${f.name}, which is looked at unless another is named`,
    () => 'name what may be lost: of: "carry"',
  ),
  "trade.bad-miss": kind(
    "error",
    (f: { miss: string }) => `a miss of ${f.miss} mm is no miss: losses are told away from the centre`,
    () => 'a miss is above 0, such as "10 mm"; both directions are told',
  ),
  "trade.miss-off-face": kind(
    "error",
    (f: { miss: string; most: number }) => `a miss of ${f.miss} lies off the face: a strike is no more than ${f.most} mm from the centre`,
    () => 'a standard miss is that of a poor strike, such as "10 mm"',
  ),
  "trade.bad-low-spin": kind(
    "error",
    (f: { limit: string }) => `no spin is below ${f.limit}: every shot of a ball spins by more than 0`,
    () => 'give a limit above 0, such as "4500 rpm"',
  ),
  "trade.no-such-group": kind(
    "error",
    (f: { name: string; by: string; candidates: readonly string[] }) => `there is no ${f.by} ${shown(f.name)} to compare with`,
    (f) => `compare with one of the ${f.by}s here: ${oneOf(f.candidates, 40)}`,
  ),
  "trade.no-same-strikes": kind(
    "error",
    (f: { why: string }) => `nothing can be said at the same strikes: ${f.why}`,
    () => "leave the option strikes out, or map strike_x and strike_y in the session",
  ),
  "trade.no-spread-column": kind(
    "error",
    () => "the table has neither carry nor offline, whose scatter is compared unless others are named",
    () => 'name what scatters: of: "ball_speed"',
  ),
  "trade.no-ellipse": kind(
    "warning",
    () => "an ellipse is of carry and offline together, and these are not both compared here: the option ellipse changes nothing",
    () => 'leave it out, or compare both: of: ["carry", "offline"]',
  ),
  "trade.air-told-twice": kind(
    "error",
    (f: { air: string; others: readonly string[] }) => `the air is told twice: as ${shown(f.air)}, and by ${listOf(f.others)}`,
    () => 'tell it one way: air: "sea level", or temperature: "21 degC" with a pressure or an altitude',
  ),
  "trade.air-without-temperature": kind(
    "error",
    (f: { told: readonly string[] }) => `${listOf(f.told)} alone ${f.told.length === 1 ? "makes" : "make"} no air: its density depends on the temperature as well`,
    () => 'add a temperature, such as temperature: "21 degC"',
  ),
  "trade.pressure-and-altitude": kind(
    "error",
    () => "pressure and altitude are two statements of the same: the pressure follows from the altitude where it is not told",
    () => "leave the altitude out where the pressure was read at the place itself; where a weather report gives it for sea level, leave the pressure out",
  ),
  "trade.impossible-air": kind(
    "error",
    (f: { what: string; found: string; low: string; high: string }) => `${/^[aeiou]/.test(f.what) ? "an" : "a"} ${f.what} of ${f.found} is not one of air in which people play`,
    (f) => `it lies between ${f.low} and ${f.high}`,
  ),
  "trade.no-such-air": kind(
    "error",
    (f: { name: string; candidates: readonly string[] }) => `there is no air ${shown(f.name)}`,
    (f) => `name one of ${oneOf(f.candidates, 40)}, or tell it: temperature: "21 degC", pressure: "1009 hPa"`,
  ),
  "trade.air-not-stated": kind(
    "error",
    (f: { session: string; file: string; missing: readonly string[] }) => `the air of the session ${shown(f.session)} is not known: it states no ${f.missing.join(" and no ")}`,
    (f) => `state it in ${f.file === "" ? "the session file" : f.file}: air: { temperature: 21 degC, pressure: 1009 hPa }, or altitude in place of pressure`,
  ),
  "trade.carry-air-unknown": kind(
    "error",
    (f: { session: string; file: string }) => `the session ${shown(f.session)} does not say which air its carry is for, so that it cannot be moved to other air`,
    (f) => `state it in ${f.file === "" ? "the session file" : f.file}: carry_is: as played where the monitor measured it, or calculated it for the air of the day; carry_is: in standard air where it calculated it for another`,
  ),
  "trade.carry-in-standard-air": kind(
    "error",
    (f: { session: string; file: string }) => `the session ${shown(f.session)} says that its carry is in standard air already; moved a second time it would be wrong`,
    (f) => `leave this session out: .filter(d => d.session !== ${JSON.stringify(f.session)}); if its carry is for the air of the day after all, state carry_is: as played in ${f.file === "" ? "the session file" : f.file}`,
  ),
  "trade.nothing-in-air": kind(
    "error",
    (f: { columns: readonly string[] }) => `the table has none of ${listOf(f.columns)} in a unit that fits, and nothing else of a flight is moved to other air`,
    () => "keep the columns of the flight: name them in select as well",
  ),
  "trade.no-launch": kind(
    "error",
    (f: { missing: readonly string[] }) => `the table has no ${oneOf(f.missing)} in a unit that fits, and how far other air moves a flight depends on its launch`,
    () => "name ball_speed, launch_angle and spin_rate in the session's columns; keep them when you select",
  ),
  "trade.two-airs": kind(
    "error",
    (f: { session: string; verb: string }) => `the session ${shown(f.session)} is in one air in this table and in another in the other table`,
    (f) => `move both or neither: standardAir() after ${f.verb}; to have both carries side by side, keep the one as hit under another name before: .derive({ carry_as_hit: d => d.carry }).standardAir()`,
  ),
  "trade.no-lofts": kind(
    "error",
    (f: { heads: readonly string[] }) => `the loft of ${oneOf(f.heads)} is not stated, and two stated lofts are needed to tell what their difference would do`,
    (f) => `state the lofts in the session file, as measured or else as stated by the maker: heads: { ${f.heads[0] ?? "Wren"}: { loft: 34 deg } }`,
  ),
  "trade.several-lofts": kind(
    "error",
    (f: { groups: readonly string[] }) => `there is not one loft each to tell the difference of: ${listOf(f.groups)}`,
    () => 'filter to one session or one set, or tell heads apart: by: "head"',
  ),
  "trade.no-spin-loft": kind(
    "error",
    () => "what a loft does depends on the spin loft, and the table has neither dynamic_loft and angle_of_attack nor launch_angle to find it from",
    () => "map one of them in the session's columns, and name it in select as well",
  ),
  "trade.nothing-of-loft": kind(
    "error",
    (f: { columns: readonly string[] }) => `the table has none of ${listOf(f.columns)}, of which this tells; carry needs the others beside it`,
    () => "map them in the session's columns, and name them in select as well",
  ),
  "trade.no-flight": kind(
    "error",
    (f: { missing: readonly string[] }) => `the table has no ${oneOf(f.missing)} in a unit that fits, and a flight is modelled from its launch`,
    () => "name ball_speed, launch_angle and spin_rate in the session's columns; keep them when you select",
  ),
  "trade.impossible-launch": kind(
    "error",
    (f: { what: string; found: string; low: string; high: string }) => `no shot starts with a ${f.what} of ${f.found}`,
    (f) => `it lies between ${f.low} and ${f.high}`,
  ),
  "trade.slow-launch": kind(
    "error",
    (f: { found: string; least: string }) => `a ball speed of ${f.found} is slower than the forces on a flying ball were measured for`,
    (f) => `flights are modelled from ${f.least} on: below that, lift can even reverse`,
  ),
  "trade.grounded": kind(
    "error",
    () => "this ball does not leave the ground, and so has no flight",
    () => "a shot starts upwards; state the angle above the horizon",
  ),
  "trade.impossible-wind": kind(
    "error",
    (f: { what: string; found: string; low: string; high: string }) => `a ${f.what} of ${f.found} is not one in which people play`,
    (f) => `it lies between ${f.low} and ${f.high}`,
  ),
  "trade.height-without-wind": kind(
    "error",
    (f: { what: string }) => `the ${f.what} says nothing without ${f.what === "roughness" ? "the height at which the wind was measured" : "a wind"}`,
    (f) => (f.what === "roughness" ? 'tell the height as well: wind_height: "2 m"; without one the wind is the same at every height' : 'tell the wind as well: wind_along: "-3 m/s", wind_right: "1 m/s"'),
  ),
  "trade.no-shot-column": kind(
    "error",
    (f: { missing: readonly string[] }) => `values were set aside, and the table no longer says of which rows: it has no ${listOf(f.missing)}`,
    (f) => `name ${f.missing.map((name) => JSON.stringify(name)).join(" and ")} in select as well, or put back first: shots.putBack()`,
  ),
  "trade.without-session": kind(
    "error",
    (f: { verb: string }) => `these rows come from no session, and ${f.verb} judges the readings of sessions`,
    (f) => `use it on shots of a session: shots.${f.verb}()`,
  ),
  "trade.without-shot-numbers": kind(
    "error",
    (f: { verb: string }) => `the table no longer has the numbers of the shots, and ${f.verb} says which shot a value is of`,
    () => 'keep the column shot: name "shot" in select as well',
  ),
} as const;
