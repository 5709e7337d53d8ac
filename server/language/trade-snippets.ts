/** A whole question, as it is offered in an empty cell. */
export interface TradeSnippet {
  /** In plain words; what is typed is matched against it. */
  readonly question: string;
  /** A name for the cell. */
  readonly name: string;
  /** The cell's body with placeholders; taken as they are it is a cell that runs on any session with the usual columns. */
  readonly body: string;
}

/** The common questions of the trade, those of a comparison first. */
export const tradeSnippets: readonly TradeSnippet[] = [
  { question: "compare carry by head", name: "gap", body: 'shots.compare({ of: "${1:carry}", by: "${2:head}" })' },
  { question: "compare carry by head at the same strikes", name: "same_strikes", body: 'shots.compare({ of: "${1:carry}", by: "${2:head}", strikes: "same" })' },
  { question: "one head at a time", name: "typical", body: 'shots.describe({ of: "${1:carry}", by: "${2:head}" })' },
  { question: "all readings side by side", name: "card", body: 'shots.scorecard({ by: "${1:head}" })' },
  { question: "which head scatters less", name: "tighter", body: 'shots.spread({ of: "${1:carry}", by: "${2:head}" })' },
  { question: "which head loses least off the centre", name: "forgiving", body: 'shots.forgiveness({ of: "${1:ball_speed}", by: "${2:head}" })' },
  { question: "which head curves most", name: "curving", body: 'shots.workability({ by: "${1:head}" })' },
  { question: "tester or head: does it drift", name: "drifting", body: 'shots.drift({ of: "${1:club_speed}" })' },
  { question: "how many more shots", name: "plan", body: 'shots.enough({ of: "${1:carry}", by: "${2:head}" })' },
  { question: "doubtful readings", name: "doubtful", body: "shots.suspects()" },
  { question: "strikes by head", name: "strikes", body: 'chart.strikes(shots, { by: "${1:head}" })' },
  { question: "landing by head", name: "landings", body: 'chart.landing(shots, { by: "${1:head}" })' },
  { question: "one reading in hitting order", name: "in_order", body: 'chart.order(shots, { of: "${1:carry}", by: "${2:head}" })' },
  { question: "stock shots of the centre of the face", name: "centred", body: 'shots.filter(d => d.intent === "${1:stock}" && d.zone === "${2:centre}")' },
  { question: "mean of each head", name: "means", body: 'shots.groupby("${1:head}").rollup({ shots: op.count(), mean: op.mean("${2:carry}") })' },
];
