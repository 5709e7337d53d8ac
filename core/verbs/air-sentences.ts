import { inWords } from "../chart/field-name";
import { airAsHit } from "../flight/session-air";
import { formatNumber } from "../present/format-number";
import type { SessionFacts } from "../session/session-facts";
import { capitalised, listed } from "./session-sentences";
import { isMovedName } from "./standard-air-shots";
import { leftOutName } from "./standard-air-table";
import { densityInWords } from "./standard-air-target";

/**
 * Difference in density, kg/m³, that moves the carry of a 7-iron (130 mph, 17°, 6200 rpm) by about 1 yd: 10 hPa do.
 * By simulation with the default fit.
 */
const worthSaying = 0.012;

/** Sessions beyond which they are not all named. */
const mostNamed = 4;

/**
 * Whether the flights behind `columns` were hit in different air and not moved, or to which air they were moved.
 *
 * Nothing for columns that do not depend on the air, and for one session as it was hit.
 *
 * @param columns names of the columns that are told of.
 * @param sessions the sessions that the shots are of.
 */
export function airSentences(columns: readonly string[], sessions: readonly SessionFacts[]): readonly string[] {
  const inAir = [...new Set(columns)].filter((name) => isMovedName(name) || name === leftOutName);
  if (inAir.length === 0) return [];
  const what = capitalised(listed(inAir.map(inWords)));
  const be = inAir.length === 1 ? "is" : "are";
  return [...movedSentence(what, be, sessions), ...differentSentence(what, be, inAir, sessions)];
}

function movedSentence(what: string, be: string, sessions: readonly SessionFacts[]): readonly string[] {
  const moved = sessions.filter((session) => session.movedTo !== undefined);
  const airs = [...new Set(moved.map(({ movedTo }) => `${movedTo!.name} (${densityInWords(movedTo!.air)})`))];
  if (airs.length === 0) return [];
  const where = moved.length === sessions.length ? "" : ` in ${names(moved)}`;
  return [`${what} ${be} in ${listed(airs)}${where}, moved there by the model of flight.`];
}

function differentSentence(what: string, be: string, columns: readonly string[], sessions: readonly SessionFacts[]): readonly string[] {
  if (sessions.length < 2) return [];
  const standard = sessions.filter(({ carryIs }) => carryIs === "in standard air");
  if (standard.length === sessions.length) return [];
  const unknown = sessions.filter((session) => session.carryIs === "unknown" || (session.carryIs === "as played" && !isKnown(session)));
  const known = sessions.filter((session) => session.carryIs === "as played" && isKnown(session));
  const densities = known.map(densityOf);
  const differ = densities.length > 1 && Math.max(...densities) - Math.min(...densities) > worthSaying;
  const remedy = columns.every((name) => name === leftOutName) ? "compare carry after standardAir()" : "use standardAir() first";
  if (standard.length + unknown.length === 0) {
    if (!differ) return [];
    const each = known.slice(0, mostNamed).map((session) => `${densityInWords({ density: densityOf(session) })} in ${session.name}`);
    const range = `${formatNumber(Math.min(...densities), 3)} to ${formatNumber(Math.max(...densities), 3)} kg/m³ over ${known.length} sessions`;
    return [`${what} ${be} of different air, and nothing was moved: ${known.length > mostNamed ? range : listed(each)}. Part of a difference between sessions is the air's: ${remedy}.`];
  }
  const parts = [
    ...(standard.length === 0 ? [] : [`in standard air in ${names(standard)}`]),
    ...(known.length === 0 ? [] : [`of the air of the day in ${names(known)}`]),
    ...(unknown.length === 0 ? [] : [`of unknown air in ${names(unknown)}`]),
  ];
  const howKnown = unknown.length === 0 ? "" : ` State air and carry_is in the session file${unknown.length === 1 ? "" : "s"}, then ${remedy}.`;
  return [`${what} ${be} ${listed(parts)}, and nothing was moved: part of a difference between sessions may be the air's.${howKnown}`];
}

function isKnown(session: SessionFacts): boolean {
  return session.movedTo !== undefined || airAsHit(session).isStated;
}

function densityOf(session: SessionFacts): number {
  return (session.movedTo ?? airAsHit(session)).air.density;
}

function names(sessions: readonly SessionFacts[]): string {
  const all = sessions.map(({ name }) => name);
  return listed(all.length > mostNamed ? [...all.slice(0, mostNamed), `${all.length - mostNamed} more`] : all);
}
