import { readJson } from "../../core/chart/json-tree";
import { checkChart } from "../../core/chart/check-chart";
import { defaultLimits } from "../../core/limits";
import type { CellKind } from "../../core/notebook/document";
import { bodyOffset } from "../../core/notebook/read-header";
import { hasError, type Problem } from "../../core/problem";
import { parseQuery } from "../../core/query/parse-query";
import { nothingKnown } from "../../core/table/schema";
import { readYaml } from "../../core/yaml-text";

/**
 * What is wrong with a cell's text as text, whatever its tables hold: for showing at once while somebody types. Empty for
 * a text that can be read.
 */
export function syntaxProblems(kind: CellKind, text: string): readonly Problem[] {
  const problems = problemsOf(kind, text);
  return hasError(problems) ? problems : [];
}

function problemsOf(kind: CellKind, text: string): readonly Problem[] {
  switch (kind) {
    case "query":
      return parseQuery(text, bodyOffset(text), defaultLimits).problems;
    case "chart":
      return "fault" in readJson(text, bodyOffset(text), defaultLimits.depth) ? checkChart(text, bodyOffset(text), nothingKnown, defaultLimits).problems : [];
    case "front":
      return readYaml(text).problems;
    case "prose":
    case "conflict":
      return [];
  }
}
