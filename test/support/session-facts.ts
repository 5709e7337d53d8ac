import type { SessionFacts } from "../../core/session/session-facts";

/** A session without anything particular about it, but for what is given. Nothing in it was measured. */
export function plainSession(given: Partial<SessionFacts> = {}): SessionFacts {
  return {
    name: "s1",
    file: "s1.session.yaml",
    date: null,
    synthetic: false,
    player: "P1",
    hand: "right",
    orderKnown: true,
    calculated: [],
    carryIs: "as played",
    air: {},
    ball: null,
    heads: [],
    shotCount: 0,
    setAside: [],
    margins: {},
    ...given,
  };
}
