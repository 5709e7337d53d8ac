import type { Air } from "../flight/air";
import { standardAirs } from "../flight/air";
import type { FoundSpinLoft, MeanStrike } from "../flight/loft-change";
import { findSpinLoft } from "../flight/loft-change";
import { airOfSession } from "../flight/session-air";
import { headKindOf } from "../session/head-kind";
import type { HeadKind, SessionFacts } from "../session/session-facts";
import { mean } from "../stats/moments";
import type { ShotColumn } from "../table/shot-columns";
import type { Table } from "../table/table";
import { findColumn } from "../table/table";
import { convert, units } from "../units";
import type { UsedShots } from "./used-shots";

/** What is stated of the loft of one group's heads. */
export interface StatedLoft {
  /** Degrees; `null` where it is not stated, or where there are several. */
  readonly loft: number | null;
  /** Every loft stated for its heads in its sessions, in degrees, ascending. */
  readonly all: readonly number[];
  /** Names of its heads. */
  readonly heads: readonly string[];
  /** Those of them whose loft a session of theirs does not state. */
  readonly unstated: readonly string[];
  readonly kinds: readonly HeadKind[];
}

/** The stated lofts of each group: those of all heads that it has, in all sessions in which it has them. */
export function statedLofts(input: Table, used: UsedShots): readonly StatedLoft[] {
  const head = findColumn(input, "head");
  return used.groups.map((_, group) => {
    const found = new Map<string, Set<number>>();
    used.rows.forEach((row, i) => {
      const name = head?.kind === "text" ? head.labels[head.codes[row]!] : undefined;
      if (used.group[i] === group && name !== undefined) found.set(name, (found.get(name) ?? new Set()).add(used.session[i]!));
    });
    const builds = [...found].flatMap(([name, sessions]) =>
      [...sessions].map((session) => ({ name, loft: input.sessions[session]?.heads.find((build) => build.name === name)?.loft })),
    );
    const lofts = builds.flatMap(({ loft }) => (loft === undefined ? [] : [Number(convert(loft.value, loft.unit, "deg").toFixed(6))]));
    const all = [...new Set(lofts)].sort((a, b) => a - b);
    const unstated = [...new Set(builds.filter(({ loft }) => loft === undefined).map(({ name }) => name))];
    const heads = [...found.keys()];
    return {
      loft: all.length === 1 && unstated.length === 0 ? all[0]! : null,
      all,
      heads,
      unstated,
      kinds: [...new Set(heads.map((name) => headKindOf(used.sessions, name)))],
    };
  });
}

/** How two groups of a pair were struck on average. */
export interface PairStrike {
  readonly strike: MeanStrike;
  readonly spinLoft: FoundSpinLoft;
  /** The mean of group `of` less that of `against` in a column of the table; `NaN` where one of them has no value. */
  readonly differenceIn: (column: ShotColumn) => number;
  readonly air: PairAir;
}

/** The air in which the carries of a pair are simulated. */
export interface PairAir {
  readonly air: Air;
  /** Sessions that do not state their air: standard air at sea level stands in, wholly or in part. */
  readonly unstated: readonly string[];
}

/**
 * The mean strike of two groups, half of either, whatever the number of their shots; `null` where their spin loft cannot
 * be found.
 *
 * Taken from the sessions in which both were hit, or from all of their shots where there is none.
 *
 * @param kinds kinds of their heads.
 */
export function pairStrike(input: Table, used: UsedShots, pair: { readonly of: number; readonly against: number }, kinds: readonly HeadKind[]): PairStrike | null {
  const sessionsOf = (group: number): ReadonlySet<number> => new Set(used.session.filter((_, i) => used.group[i] === group));
  const [own, other] = [sessionsOf(pair.of), sessionsOf(pair.against)];
  const shared = [...own].filter((session) => other.has(session));
  const sessions = shared.length > 0 ? shared : [...new Set([...own, ...other])];
  const meanOf = (name: ShotColumn, group: number): number => {
    const column = findColumn(input, name);
    if (column?.kind !== "number" || column.unit === null) return Number.NaN;
    const values = Array.from(used.rows).flatMap((row, i) => (used.group[i] === group && sessions.includes(used.session[i]!) ? [column.values[row]!] : []));
    const known = values.filter((value) => !Number.isNaN(value));
    return known.length === 0 ? Number.NaN : mean(known) * units[column.unit].factor;
  };
  const both = (name: ShotColumn): number => (meanOf(name, pair.of) + meanOf(name, pair.against)) / 2;
  const launchAngle = both("launch_angle");
  const spinLoft = findSpinLoft({ dynamicLoft: both("dynamic_loft"), angleOfAttack: both("angle_of_attack"), launchAngle }, kinds);
  if (spinLoft === null) return null;
  return {
    strike: {
      spinLoft: spinLoft.spinLoft,
      spinLoftError: spinLoft.error,
      ballSpeed: both("ball_speed"),
      launchAngle,
      spinRate: both("spin_rate"),
      carry: both("carry"),
    },
    spinLoft,
    differenceIn: (name) => {
      const column = findColumn(input, name);
      const factor = column?.kind === "number" && column.unit !== null ? units[column.unit].factor : 1;
      return (meanOf(name, pair.of) - meanOf(name, pair.against)) / factor;
    },
    air: airOfSessions(sessions.flatMap((session) => input.sessions[session] ?? [])),
  };
}

/** The mean of the sessions' air: where carry is in standard air, that of the standard atmosphere at sea level. */
function airOfSessions(sessions: readonly SessionFacts[]): PairAir {
  const airs = sessions.map((session) =>
    session.carryIs === "in standard air" ? { air: standardAirs["sea level"], isStated: true, name: session.name } : { ...airOfSession(session), name: session.name },
  );
  if (airs.length === 0) return { air: standardAirs["sea level"], unstated: [] };
  return {
    air: { density: mean(airs.map(({ air }) => air.density)), viscosity: mean(airs.map(({ air }) => air.viscosity)) },
    unstated: airs.filter(({ isStated }) => !isStated).map(({ name }) => name),
  };
}
