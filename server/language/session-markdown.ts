import { digitsAsStated, formatMeasure, formatNumber } from "../../core/present/format-number";
import { cut, inert } from "../../core/present/show-value";
import { headDefaults } from "../../core/session/head-defaults";
import type { HeadBuild, HeadKind, SessionFacts } from "../../core/session/session-facts";
import { zones } from "../../core/table/shot-columns";
import type { Measure } from "../../core/units";
import { nameInCode, sentence } from "./column-hover";
import { escaped } from "./markdown";
import type { NotebookView } from "./notebook-view";

/** Sessions of which each is told of by itself; of more the first ones are. */
const mostSessions = 5;

/** Characters of a text of the person's that are shown. */
const mostCharacters = 80;

/** Every session that a notebook takes shots from, each once. */
export function sessionsOf({ sources }: NotebookView): readonly SessionFacts[] {
  const all = [sources.shots, ...sources.byPath.values()].flatMap((source) => source?.table?.sessions ?? []);
  return [...new Map(all.map((session) => [JSON.stringify([session.file, session.name]), session])).values()];
}

/** Sessions in Markdown, one a paragraph: date, player, heads, shots and what was set aside. */
export function sessionsMarkdown(sessions: readonly SessionFacts[]): string {
  const shown = sessions.slice(0, mostSessions).map(sessionMarkdown);
  const rest = sessions.length > mostSessions ? [`… ${sessions.length} sessions in all.`] : [];
  return [...shown, ...rest].join("\n\n");
}

function sessionMarkdown(session: SessionFacts): string {
  const { date, player, heads, shotCount, setAside, synthetic, monitor, ball } = session;
  const place = [monitor?.kind, monitor?.place].flatMap((word) => word ?? []);
  const values = setAside.reduce((total, each) => total + each.count, 0);
  const lines = [
    `**${nameInCode(session.name)}**: ${date === null ? "no date stated" : plain(date)}, ${shotCount} ${shotCount === 1 ? "shot" : "shots"}${synthetic ? ", synthetic" : ""}`,
    ...(heads.length === 0 ? [] : [`Heads: ${heads.map((head) => nameInCode(head.name)).join(", ")}`]),
    ...(player === null ? [] : [`Player: ${plain(player)}, ${session.hand}-handed`]),
    ...(place.length === 0 ? [] : [`Monitor: ${place.map(plain).join(", ")}`]),
    ...(ball === null ? [] : [`Ball: ${plain(ball)}`]),
    ...(values === 0 ? [] : [`Set aside: ${values} ${values === 1 ? "value" : "values"}`]),
  ];
  return lines.join("  \n");
}

/** What is stated of the head called `name`, in Markdown: a paragraph for each build, with the sessions that state it. */
export function headMarkdown(name: string, sessions: readonly SessionFacts[]): string {
  const builds = new Map<string, string[]>();
  for (const session of sessions) {
    const head = session.heads.find((each) => each.name === name);
    if (head === undefined) continue;
    const words = buildInWords(head);
    builds.set(words, [...(builds.get(words) ?? []), session.name]);
  }
  if (builds.size === 0) return "No session states what is known of this head.";
  return [...builds].map(([words, names]) => (sessions.length === 1 ? words : `${words} In ${inSessions(names)}.`)).join("\n\n");
}

function inSessions(names: readonly string[]): string {
  const shown = names.slice(0, mostSessions).map(nameInCode).join(", ");
  return names.length > mostSessions ? `${shown} and ${names.length - mostSessions} more` : shown;
}

function buildInWords(head: HeadBuild): string {
  const measure = (what: string, stated: Measure | undefined): readonly string[] =>
    stated === undefined ? [] : [`${what} ${formatMeasure(stated.value, digitsAsStated(stated.value), stated.unit)}`];
  const text = (what: string, stated: string | undefined): readonly string[] => (stated === undefined ? [] : [`${what}${plain(stated)}`]);
  const parts = [
    head.kind,
    ...text("", head.design),
    ...text("set ", head.set),
    ...text("club ", head.club),
    ...measure("loft", head.loft),
    ...measure("lie", head.lie),
    ...measure("length", head.length),
    ...text("shaft ", head.shaft),
  ];
  const [across, up] = [head.strikeReference.x, head.strikeReference.y].map((value) => formatNumber(value, digitsAsStated(value)));
  return `${sentence(parts.join(", "))} A centred strike is at ${across} mm across and ${up} mm up from the monitor's origin.`;
}

/** Where a zone of the face is, in Markdown; `null` for what is no zone. */
export function zoneMarkdown(name: string, sessions: readonly SessionFacts[]): string | null {
  if (!zones.some((zone) => zone === name)) return null;
  const sizes = centreSizes(sessions);
  if (name === "centre") return `The middle ninth of the face, around the strike reference: ${sizes}.`;
  const row = name.startsWith("high") ? "above the centre zone" : name.startsWith("low") ? "below the centre zone" : "level with the centre zone";
  const side = name.endsWith("toe") ? "toward the toe" : name.endsWith("heel") ? "toward the heel" : "neither toward the toe nor the heel";
  return `The ninth of the face ${row}, ${side}. The centre zone is ${sizes}.`;
}

/** How large the centre zone is for each kind of head that was hit, for all kinds where none is known. */
function centreSizes(sessions: readonly SessionFacts[]): string {
  const hit = sessions.flatMap((session) => session.heads.map(({ kind }) => ({ kind, zone: session.centreZones?.[kind] ?? headDefaults[kind].centreZone })));
  const usual = (Object.keys(headDefaults) as HeadKind[]).map((kind) => ({ kind, zone: headDefaults[kind].centreZone }));
  const sizes = (hit.length > 0 ? hit : usual).map(({ kind, zone }) => `${2 * zone.halfWidth} by ${2 * zone.halfHeight} mm for ${kind}s`);
  return [...new Set(sizes)].join(", ");
}

/** A text of the person's on one line and not too long, for Markdown. */
function plain(text: string): string {
  return escaped(cut(inert(text), mostCharacters));
}
