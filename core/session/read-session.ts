import type { Checked, Problem } from "../problem";
import { problem } from "../problem";
import { lineTable, onOneLine, textStart, type LineTable } from "../text-position";
import type { YamlNode } from "../yaml-text";
import { readYaml } from "../yaml-text";
import { besidesSyntax } from "../yaml-syntax";
import { NodeReader, textLike, writing } from "./node-reader";
import { readColumnsMap } from "./read-columns-map";
import { readMargins, readMisses, readPlausible, readReadingErrors, readZones } from "./read-defaults";
import { readHeads } from "./read-heads";
import { readCorrections, readRemarks, readSetAside, readShotRanges } from "./read-shot-lists";
import { readSources } from "./read-sources";
import { isDate } from "./read-time";
import type { Session } from "./session";
import type { SessionKey } from "./session-keys";
import { keysOf } from "./session-keys";
import { sessionShapes } from "./session-shapes";

/**
 * The session that a session file describes, and everything that is wrong with it, each at its place in the text.
 *
 * What is wrong is left out of the session: an entry without a reason sets nothing aside. `null` only when the text
 * is no map at all. What depends on the exports (headers, heads that were hit, numbers of shots) is checked when
 * they are loaded.
 * @example readSession("session: s1\nsources: s1.csv").value?.name // "s1"
 */
export function readSession(text: string): Checked<Session | null> {
  const body = text.startsWith("\ufeff") ? text.slice(1) : text;
  const { value: root, problems } = readYaml(body);
  const lines = lineTable(body);
  if (root === null || root.kind !== "map") {
    const found = problem("session.not-a-session", {}, root === null ? textStart : onOneLine(root.range, lines));
    return { value: null, problems: problems.some((each) => each.severity === "error") ? problems : [...problems, found] };
  }
  const reader = new NodeReader();
  const session = readRoot(reader, root);
  return { value: session, problems: inOrder([...problems, ...besidesSyntax(reader.problems, problems)], lines) };
}

function readRoot(reader: NodeReader, root: YamlNode): Session {
  const entries = reader.entries(root, "a session", keysOf("session"));
  const at = (key: SessionKey<"session">): YamlNode | undefined => entries.get(key)?.value;
  const name = at("session") === undefined ? reader.missingKey("session", "the file", root) : reader.text(at("session"), "the session's name");
  if (at("sources") === undefined) reader.missingKey("sources", "the session", root);
  reader.text(at("note"), "a note");
  return {
    name: name ?? "session",
    date: readDate(reader, at("date")),
    synthetic: reader.choice(at("data"), "sort of data", sessionShapes.session.data.choices) === "synthetic",
    sources: readSources(reader, at("sources")),
    player: readPlayer(reader, at("player")),
    monitor: readMonitor(reader, at("monitor")),
    calculated: reader.list(at("calculated")).flatMap((item) => reader.choice(item, "shot column", sessionShapes.session.calculated.item.choices) ?? []),
    carryIs: reader.choice(at("carry_is"), "value of carry_is", sessionShapes.session.carry_is.choices) ?? "unknown",
    columns: readColumnsMap(reader, at("columns")),
    missing: reader.list(at("missing")).flatMap((item) => reader.text(item, "a text that means missing") ?? []),
    air: readAir(reader, at("air")),
    turf: reader.text(at("turf"), "the turf"),
    ball: readBall(reader, at("ball")),
    heads: readHeads(reader, at("heads")),
    shots: readRemarks(reader, at("shots")),
    breaks: readShotRanges(reader, at("breaks"), "breaks"),
    corrections: readCorrections(reader, at("corrections")),
    setAside: readSetAside(reader, at("set_aside")),
    readingErrors: readReadingErrors(reader, at("reading_error")),
    centreZones: readZones(reader, at("zones")),
    standardMisses: readMisses(reader, at("misses")),
    ...readMargins(reader, at("margin")),
    plausible: readPlausible(reader, at("plausible")),
  };
}

function readDate(reader: NodeReader, node: YamlNode | undefined): string | null {
  const text = reader.text(node, "the date", "a day, such as 2026-03-14");
  if (node === undefined || text === null || isDate(text)) return text;
  reader.problems.push(problem("value.date", { text, what: "date" }, node.range, writing(dateIn(text), node.range)));
  return null;
}

/** The date that a text in another form says; none where it may say two. */
function dateIn(text: string): string | undefined {
  const yearFirst = /^(\d{4})\D?(\d{1,2})\D?(\d{1,2})$/u.exec(text)?.slice(1);
  const [a = "", b = "", year = ""] = /^(\d{1,2})[./-](\d{1,2})[./-](\d{4})$/u.exec(text)?.slice(1) ?? [];
  const orders = yearFirst === undefined ? [[year, b, a], [year, a, b]] : [yearFirst];
  const dates = orders.map((parts) => parts.map((part) => part.padStart(2, "0")).join("-")).filter(isDate);
  return new Set(dates).size === 1 ? dates[0] : undefined;
}

function readPlayer(reader: NodeReader, node: YamlNode | undefined): Session["player"] {
  if (node?.kind === "scalar") return { name: reader.text(node, "the player"), hand: "right", mirror: false };
  const entries = reader.entries(node, "player", keysOf("player"));
  return {
    name: reader.text(entries.get("name")?.value, "the player's name"),
    hand: reader.choice(entries.get("hand")?.value, "hand", sessionShapes.player.hand.choices) ?? "right",
    mirror: reader.truth(entries.get("mirror")?.value, "answer to mirror") ?? false,
  };
}

function readMonitor(reader: NodeReader, node: YamlNode | undefined): Session["monitor"] {
  const entries = reader.entries(node, "monitor", keysOf("monitor"));
  return {
    kind: reader.text(entries.get("kind")?.value, "the monitor's kind", textLike(sessionShapes.monitor.kind)),
    place: reader.choice(entries.get("place")?.value, "place", sessionShapes.monitor.place.choices),
  };
}

function readAir(reader: NodeReader, node: YamlNode | undefined): Session["air"] {
  const entries = reader.entries(node, "air", keysOf("air"));
  const at = (key: SessionKey<"air">): YamlNode | undefined => entries.get(key)?.value;
  const temperature = reader.likely(at("temperature"), "air temperature", "temperature", { value: -40, unit: "degC" }, { value: 60, unit: "degC" }, "degC");
  const pressure = reader.likely(at("pressure"), "air pressure", "pressure", { value: 500, unit: "hPa" }, { value: 1100, unit: "hPa" }, "hPa");
  const humidity = reader.likely(at("humidity"), "relative humidity", "share", { value: 0, unit: "%" }, { value: 100, unit: "%" }, "%");
  const altitude = reader.likely(at("altitude"), "altitude", "distance", { value: -500, unit: "m" }, { value: 5000, unit: "m" });
  return {
    ...(temperature === null ? {} : { temperature }),
    ...(pressure === null ? {} : { pressure }),
    ...(humidity === null ? {} : { humidity }),
    ...(altitude === null ? {} : { altitude }),
  };
}

function readBall(reader: NodeReader, node: YamlNode | undefined): Session["ball"] {
  if (node?.kind === "scalar") return { model: reader.text(node, "the ball"), count: null, wear: null };
  const entries = reader.entries(node, "ball", keysOf("ball"));
  return {
    model: reader.text(entries.get("model")?.value, "the ball's model"),
    count: reader.whole(entries.get("count")?.value, "the count of balls", sessionShapes.ball.count),
    wear: reader.text(entries.get("wear")?.value, "the balls' wear", textLike(sessionShapes.ball.wear)),
  };
}

/** Problems in the order of the text, each on one line of it. */
function inOrder(problems: readonly Problem[], lines: LineTable): readonly Problem[] {
  return problems.map((found) => ({ ...found, range: onOneLine(found.range, lines) })).sort((a, b) => a.range.start.line - b.range.start.line || a.range.start.column - b.range.start.column);
}
