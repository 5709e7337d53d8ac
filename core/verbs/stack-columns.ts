import type { SessionFacts } from "../session/session-facts";
import type { Column } from "../table/table";

/** One part of a stacked column: a column, or nothing for as many rows of missing values. */
export interface Part {
  readonly column: Column | null;
  readonly rowCount: number;
}

/** The values of two parts, one behind the other, in a column like `like`; both are of its kind. */
export function stackColumns(like: Column, above: Part, below: Part): Column {
  const { name, origin } = like;
  const length = above.rowCount + below.rowCount;
  switch (like.kind) {
    case "number": {
      const values = new Float64Array(length).fill(Number.NaN);
      if (above.column?.kind === "number") values.set(above.column.values, 0);
      if (below.column?.kind === "number") values.set(below.column.values, above.rowCount);
      return { kind: "number", name, unit: like.unit, origin, values };
    }
    case "truth": {
      const values = new Int8Array(length).fill(-1);
      if (above.column?.kind === "truth") values.set(above.column.values, 0);
      if (below.column?.kind === "truth") values.set(below.column.values, above.rowCount);
      return { kind: "truth", name, origin, values };
    }
    case "text": {
      const known = new Map<string, number>();
      const codes = new Int32Array(length).fill(-1);
      const place = (column: Column | null, offset: number): void => {
        if (column?.kind !== "text") return;
        const renumbered = column.labels.map((label) => {
          const code = known.get(label) ?? known.size;
          known.set(label, code);
          return code;
        });
        codes.set(
          column.codes.map((code) => (code < 0 ? -1 : renumbered[code]!)),
          offset,
        );
      };
      place(above.column, 0);
      place(below.column, above.rowCount);
      return { kind: "text", name, origin, codes, labels: [...known.keys()] };
    }
  }
}

/** A session whose flights are in other air in one of the lists than in the other; `undefined` when there is none. */
export function sessionInTwoAirs(a: readonly SessionFacts[], b: readonly SessionFacts[]): SessionFacts | undefined {
  const density = (session: SessionFacts): number | undefined => session.movedTo?.air.density;
  return a.find((session) => b.some((other) => isSameSession(session, other) && density(session) !== density(other)));
}

/** The sessions of both, each once. */
export function joinSessions(a: readonly SessionFacts[], b: readonly SessionFacts[]): readonly SessionFacts[] {
  return [...a, ...b.filter((session) => !a.some((other) => isSameSession(other, session)))];
}

function isSameSession(a: SessionFacts, b: SessionFacts): boolean {
  return a.file === b.file && a.name === b.name;
}
