import type { Table } from "../../../core/table/table";
import { numberColumn, textColumn } from "../../../core/table/table";
import { sampleSession, sampleTable } from "../present/sample-tables";

/** A made-up table with the columns of `compare`: three pairs, two kinds of strikes, one pair without an interval. */
export function sampleCompare(): Table {
  const pairs = [["Heron", "Wren"], ["Plover", "Wren"], ["Heron", "Plover"]] as const;
  const rows = pairs.flatMap(([head, against], i) =>
    ["as struck", "same"].map((strikes, j) => ({ head, against, strikes, difference: [1.94, 5.46, -0.4][i]! + j, half: [3.5, 2.1, 1.6][i]! })),
  );
  const verdicts = ["undecided", "undecided", "different", "different by more than the margin", "practically equivalent", "different but too small to matter"];
  return sampleTable(
    [
      textColumn("head", rows.map((row) => row.head)),
      textColumn("against", rows.map((row) => row.against)),
      textColumn("of", rows.map(() => "carry")),
      textColumn("strikes", rows.map((row) => row.strikes)),
      numberColumn("difference", rows.map((row) => row.difference), "yd"),
      numberColumn("from", rows.map((row) => row.difference - row.half), "yd"),
      numberColumn("to", rows.map((row) => row.difference + row.half), "yd"),
      numberColumn("from90", rows.map((row) => row.difference - 0.83 * row.half), "yd"),
      numberColumn("to90", rows.map((row) => row.difference + 0.83 * row.half), "yd"),
      numberColumn("margin", rows.map(() => 3), "yd"),
      textColumn("verdict", verdicts),
      numberColumn("n", rows.map(() => 30)),
      numberColumn("df", rows.map(() => 24.31)),
      numberColumn("p", [0.21, 0.2, 0.003, 0.0004, 0.7, 0.04]),
    ],
    {
      sessions: [sampleSession({ synthetic: true })],
      report: {
        method: "block model (REML, Kenward-Roger), simultaneous 95 % intervals (Tukey-Kramer)",
        confidence: 0.95,
        sentences: ["Undecided: Heron \u2212 Wren is 1.9 yd (\u22121.6 to 5.4). About 40 more shots each would settle a 3 yd question.", "One tester, one session."],
        hidden: ["df", "p"],
      },
    },
  );
}
