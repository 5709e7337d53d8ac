import { inWords } from "../chart/field-name";
import { digitsAsStated, formatNumber } from "../present/format-number";
import { notesOf } from "../present/present-table";
import type { SessionFacts } from "../session/session-facts";
import type { LossModel } from "../stats/loss-model";
import { sampleVariance } from "../stats/moments";
import { flattening } from "../stats/strike-error";
import { strikesOf } from "../stats/strike-overlap";
import type { NumberColumn, Table } from "../table/table";
import { convert, isConvertible } from "../units";
import { airSentences } from "./air-sentences";
import { buildSentences, closingSentence, countValues, errorSentences, missingSentences, listed, originSentences } from "./session-sentences";
import { strikeColumns } from "./shot-data";
import type { UsedShots } from "./used-shots";

/** Standard deviation of the strikes' reading error, in mm, above which it is worth saying. Common practice, no source. */
const worthSaying = 1;

/** What the surface rests on, and what makes it flatter than it should be. */
export function modelSentences(model: LossModel | null, used: UsedShots): readonly string[] {
  if (model === null) return [];
  const { form, overlap } = model;
  const said: string[] = [];
  if (form.because === "few shots") said.push("Too few shots for a fall-off of each one's own: one is fitted for all, which makes all losses alike.");
  if (form.because === "different tilt") said.push("A tilt common to all is rejected (p below 0.01): each has a whole surface of its own.");
  const without = used.groups.filter((_, group) => !model.heads.includes(group));
  if (without.length > 0) {
    const fitted = model.heads.map((group) => used.groups[group]!);
    said.push(`The surface is fitted to the ${overlap.shots} shots with a known strike of ${listed(fitted)}, without ${listed(without)}, which ${without.length === 1 ? "has" : "have"} too few.`);
  }
  if (overlap.state === "restricted") said.push(`Common strikes are those where all were hit: ${overlap.kept} of ${overlap.shots} shots.`);
  return [...said, ...flatteningSentences(model, used.sessions)];
}

/** How much the stated reading errors of the strikes flatten the surface, where they are above 1 mm. */
function flatteningSentences(model: LossModel, sessions: readonly SessionFacts[]): readonly string[] {
  const directions = [["strike_x", "across", "x"], ["strike_y", "up", "y"]] as const;
  return directions.flatMap(([column, word, coordinate]) => {
    const errors = sessions.flatMap((session) => session.readingErrors?.[column] ?? []).filter((error) => isConvertible(error.unit, "mm"));
    const error = Math.max(0, ...errors.map((each) => convert(each.value, each.unit, "mm")));
    if (error <= worthSaying) return [];
    const variances = model.heads.map((_, head) => sampleVariance(strikesOf(model.data, head)[coordinate]));
    const scatter = Math.sqrt(variances.reduce((total, each) => total + each, 0) / variances.length);
    const { linear, quadratic } = flattening(error, scatter);
    const stated = `Strikes ${word} the face are read with an error of ${formatNumber(error, digitsAsStated(error))} mm`;
    if (Number.isNaN(linear)) return [`${stated}, as much as they scatter: losses ${word} the face mean nothing.`];
    return [`${stated}: that flattens a tilt by about ${formatNumber(100 * linear, 0)} % and a fall-off by about ${formatNumber(100 * quadratic, 0)} %, so that true losses are larger than these.`];
  });
}

/** What a reader must know besides the verdicts. */
export function background(input: Table, column: NumberColumn, used: UsedShots, by: string): readonly string[] {
  const { x, y } = strikeColumns(input)!;
  const lacking = [column, x, y].map((each) => countValues(input, each, used)).map((counts, i) => ({ counts, column: [column, x, y][i]!.name }));
  const gaps = lacking.filter(({ counts }) => counts.some((each) => each.missing > 0));
  return [
    ...used.sentences,
    ...errorSentences(used.sessions),
    ...(gaps.length === 0 ? [`No value of ${inWords(column.name)} and no strike is missing.`] : missingSentences(gaps)),
    ...(by === "head" ? buildSentences(used.groups, used.sessions) : []),
    ...originSentences(column, used.sessions),
    ...airSentences([column.name], used.sessions),
    ...notesOf({ sessions: used.sessions }),
    closingSentence(used),
  ];
}
