import type { HeadAnswer, SessionAnswers, SessionProposal } from "./session-proposal";

/** What is sure or likely of a proposal as answers; what has to be asked is `null`. */
export function firstAnswers(proposal: SessionProposal): SessionAnswers {
  const head = proposal.columns.find(({ column }) => column === "head");
  const found = head === undefined ? [] : (proposal.heads[head.header] ?? []);
  // Names under the one header that may be the head: of use once that is said, and nothing before.
  const asked = proposal.columns.filter(({ column, columns, isNumber }) => column === null && columns[0] === "head" && !isNumber);
  const [only] = head === undefined && asked.length === 1 ? asked : [];
  const possible = only === undefined ? found : (proposal.heads[only.header] ?? []);
  return {
    session: proposal.name,
    date: proposal.date ?? "",
    player: "",
    hand: null,
    monitorKind: "",
    monitorPlace: null,
    columns: proposal.columns.map(({ header, column, unit, sides, positive }) => ({ header, column, unit, sides, positive })),
    headsFrom: found.length > 0 ? "column" : null,
    fileHeads: {},
    plan: "",
    heads: possible.map(({ name }) => newHead(name)),
    order: proposal.order,
    wrongHeads: [],
    warmUp: null,
    shaped: [],
    carryIs: null,
    calculated: [],
    temperature: "",
    pressure: "",
    humidity: "",
    altitude: "",
    ball: "",
  };
}

/** A head of which nothing but the name is known. */
export function newHead(name: string): HeadAnswer {
  return { name, kind: null, design: "", set: "", club: "", loft: "", lie: "", length: "", shaft: "" };
}
