import { problem } from "../problem";
import type { DelimitedText } from "../table/delimited-text";
import { fieldText, rowRange } from "../table/delimited-text";
import type { ProblemList } from "../table/problem-list";
import type { ShotRowHints } from "./shot-row-hints";

/** Averages, spreads, extremes, sums and counts in the languages of exports; from memory, no source. */
const words = [
  "averages? avg\\.? mean median std\\.? st\\.?_?dev\\.? std\\.?_?dev\\.? standard_deviation s\\.?d\\.? deviation dev\\.? min\\.? minimum max\\.? maximum totals? sum range variance count",
  "durchschnitt schnitt mittel mittelwert standardabweichung stabw\\.? streuung summe anzahl spannweite",
  "moyennes? médiane mediane écart[-_]type ecart[-_]type somme nombre étendue",
  "medias? médias? promedios? mediana desviación desviacion desviación_estándar desviacion_estandar desv\\.? mín\\.? mínimo máx\\.? máximo suma cantidad",
  "deviazione deviazione_standard minimo massimo somma totale conteggio desvio desvio[-_]padrão soma contagem",
  "gemiddelde standaarddeviatie standaardafwijking som aantal medel medelvärde standardavvikelse summa gjennomsnitt standardavvik gennemsnit standardafvigelse keskiarvo keskihajonta",
  "średnia odchylenie_standardowe suma průměr směrodatná_odchylka ortalama standart_sapma среднее",
  "平均 平均值 標準偏差 标准差 標準差 最大 最小 最大值 最小值 合計 合计 평균 표준편차",
].flatMap((line) => line.split(" "));

const summaryWord = new RegExp(`^(?:${words.join("|").replaceAll("_", " ?")})\\s*(?:\\([^()]*\\))?\\s*:?$`, "iu");

/** Rows whose first field is longer, in bytes, are not looked at. */
const longest = 80;

/**
 * Returns what tells of a row whether it is a summary and no shot, and says so of each that is.
 *
 * A row with a whole number for its shot is a shot. A word like "Average" in the column of shots, heads or times makes
 * a summary. In another column it does so only in a row without a head that is known; in a row with one it may be an
 * opinion of the shot: it is a summary only where the column holds no other words. Where that is in doubt the row is
 * left out with a warning. So is a row that has some other word for its shot number, and no head.
 */
export function summaryRows(text: DelimitedText, hints: ShotRowHints, list: ProblemList): (row: number, first: number) => boolean {
  const opinions = new Map<number, boolean>();
  const holdsOtherWords = (column: number): boolean => {
    const known = opinions.get(column) ?? hasOtherWords(text, column);
    opinions.set(column, known);
    return known;
  };
  return (row, first) => {
    if (!mayBeWord(text, row, first)) return false;
    const word = (fieldText(text, row, first) ?? "").trim();
    if (!hints.mayNameSummary(first) || hints.isHead(word)) return false;
    const head = hints.headColumn < 0 ? "" : (fieldText(text, row, hints.headColumn) ?? "").trim();
    const hasHead = first !== hints.headColumn && hints.isHead(head);
    const inNamed = hints.isNamed(first);
    if (summaryWord.test(word)) {
      const number = hints.shotColumn < 0 ? "" : (fieldText(text, row, hints.shotColumn) ?? "");
      if (/^\s*\d+(?:\.0*)?\s*$/.test(number)) return false;
      if (inNamed || (head === "" && hints.headColumn >= 0)) list.add("csv.summary-row", () => problem("csv.summary-row", { word }, rowRange(text, row)));
      else if (hasHead && holdsOtherWords(first)) return false;
      else list.add("csv.summary-or-shot", () => problem("csv.summary-or-shot", { word, column: text.header[first]!.name }, rowRange(text, row)));
      return true;
    }
    if (first !== hints.shotColumn || hasHead || hints.isMissing(word) || !/^[^\d]*\p{L}[^\d]*$/u.test(word)) return false;
    list.add("csv.no-shot-number", () => problem("csv.no-shot-number", { word }, rowRange(text, row)));
    return true;
  };
}

/** True for a field that begins like a word: no other row is looked at twice. */
function mayBeWord(text: DelimitedText, row: number, column: number): boolean {
  const index = row * (text.header.length + 1) + column;
  const from = text.starts[index]!;
  const first = text.bytes[from]!;
  const letter = first | 0x20;
  return (first <= 34 || first >= 0x80 || (letter >= 97 && letter <= 122)) && text.starts[index + 1]! - 1 - from <= longest;
}

/** True when some row of the column holds a word that is no word of a summary; so many rows tell. */
function hasOtherWords(text: DelimitedText, column: number): boolean {
  for (let row = 0; row < Math.min(text.rowCount, 1000); row++) {
    const word = (fieldText(text, row, column) ?? "").trim();
    if (/\p{L}/u.test(word) && !summaryWord.test(word)) return true;
  }
  return false;
}
