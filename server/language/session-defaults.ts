import { usualReadingErrors } from "../../core/quality/reading-errors";
import { usualLimits } from "../../core/session/check-ranges";
import { headDefaults, headKinds, type HeadDefaults } from "../../core/session/head-defaults";
import { isShotColumn } from "../../core/table/shot-columns";
import { unitsForColumn } from "./session-typical";

/** What holds where a session does not state a key, as a sentence; `null` where there is no default. All of it common practice. */
export function defaultOf(path: readonly (string | null)[], key: string): string | null {
  const words = [...path, key].filter((each) => each !== null);
  const [first, second] = words;
  if (first === "heads" && words.includes("strike_reference")) return byKind(({ strikeReference: { x, y } }) => `${x} mm across and ${y} mm up`);
  if (first === "zones") return byKind(({ centreZone }) => `${2 * centreZone.halfWidth} mm wide and ${2 * centreZone.halfHeight} mm high`);
  if (first === "misses") return byKind(({ standardMiss: { x, y } }) => `${x} mm to toe or heel and ${y} mm high or low`);
  if (second === undefined || !isShotColumn(second)) return null;
  if (first === "margin") {
    return byKind(({ margins }) => {
      const margin = Object.hasOwn(margins, second) ? margins[second] : undefined;
      return margin === undefined ? "none" : `${margin.value} ${margin.unit}`;
    });
  }
  if (first === "reading_error") {
    const error = usualReadingErrors[second];
    return error === undefined ? null : said(`${error.value} ${error.unit}`);
  }
  if (first !== "plausible") return null;
  const unit = unitsForColumn(second)[0] ?? null;
  const limits = usualLimits(second, unit);
  return limits === null ? null : said(`${limits[0]} to ${limits[1]}${unit === null ? "" : ` ${unit}`}`);
}

function byKind(words: (defaults: HeadDefaults) => string): string {
  const byWords = new Map<string, string[]>();
  for (const kind of headKinds) {
    const key = words(headDefaults[kind]);
    byWords.set(key, [...(byWords.get(key) ?? []), `${kind}s`]);
  }
  if (byWords.size === 1) return said([...byWords.keys()][0]!);
  return said([...byWords].map(([text, kinds]) => `${text} for ${kinds.join(" and ")}`).join("; "));
}

function said(what: string): string {
  return `Where nothing is stated: ${what}, by common practice.`;
}
