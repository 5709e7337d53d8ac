import { makeTable, numberColumn, textColumn, truthColumn, type Table } from "../../../core/table/table";
import { plainSession } from "../../support/session-facts";

const air = { temperature: { value: 21, unit: "degC" }, pressure: { value: 1009, unit: "hPa" } } as const;

const heads = ([["Wren", 34], ["Heron", 34], ["Plover", 32.5]] as const).map(
  ([name, loft]) => ({ name, kind: "iron", loft: { value: loft, unit: "deg" }, strikeReference: { x: 0, y: -9 } }) as const,
);

/** A synthetic session for tests of the query language; nothing in it was measured. */
export const sampleSession = plainSession({ name: "spring", file: "spring.session.yaml", synthetic: true, ball: "B1", shotCount: 12, air, heads });

/** Twelve synthetic shots with three heads; some values are missing. */
export function shotTable(): Table {
  const shots = Array.from({ length: 12 }, (_, index) => index + 1);
  const heads = shots.map((shot) => ["Wren", "Heron", "Plover"][(shot - 1) % 3]!);
  const carry = shots.map((shot) => (shot === 5 ? null : 148 + ((shot * 7) % 11)));
  return makeTable(
    [
      textColumn("session", shots.map(() => "spring"), "stated"),
      numberColumn("shot", shots, null, "measured"),
      textColumn("head", heads, "measured"),
      numberColumn("stint", shots, null, "derived"),
      textColumn("ball", shots.map(() => "B1"), "stated"),
      textColumn("intent", shots.map((shot) => (shot <= 2 ? "warm-up" : "stock")), "stated"),
      textColumn("note", shots.map((shot) => (shot === 4 ? "gusty" : null)), "stated"),
      textColumn("zone", shots.map((shot) => (shot === 9 ? null : ["centre", "low toe", "high", "heel"][shot % 4]!)), "derived"),
      numberColumn("strike_x", shots.map((shot) => ((shot * 5) % 13) - 6), "mm", "measured"),
      numberColumn("strike_y", shots.map((shot) => ((shot * 3) % 7) - 3), "mm", "measured"),
      numberColumn("club_speed", shots.map((shot) => 84 + (shot % 5)), "mph", "measured"),
      numberColumn("ball_speed", shots.map((shot) => (shot === 7 ? null : 116 + (shot % 6))), "mph", "measured"),
      numberColumn("speed_ratio", shots.map((shot) => 1.3 + (shot % 6) / 50), null, "derived"),
      numberColumn("launch_angle", shots.map((shot) => 16 + (shot % 4)), "deg", "measured"),
      numberColumn("descent_angle", shots.map((shot) => 44 + (shot % 3)), "deg", "calculated"),
      numberColumn("spin_rate", shots.map((shot) => (shot === 2 ? null : 6200 + shot * 30)), "rpm", "measured"),
      numberColumn("face_to_path", shots.map((shot) => ((shot * 7) % 9) - 4), "deg", "derived"),
      numberColumn("spin_axis", shots.map((shot) => 3 * (((shot * 7) % 9) - 4) + ((shot * 5) % 3)), "deg", "measured"),
      numberColumn("carry", carry, "yd", "calculated"),
      numberColumn("total", carry.map((value) => (value === null ? null : value + 6)), "yd", "calculated"),
      numberColumn("offline", shots.map((shot) => ((shot * 4) % 9) - 4), "yd", "calculated"),
      numberColumn("peak_height", shots.map((shot) => 80 + shot), "ft", "calculated"),
      truthColumn("indoor", shots.map((shot) => (shot === 3 ? null : shot % 2 === 0)), "stated"),
    ],
    shots.length,
    { sessions: [sampleSession] },
  );
}

/** What is known of the heads; Plover is not among them, and one that nobody hit is. */
export function headTable(): Table {
  return makeTable(
    [textColumn("head", ["Wren", "Heron", "Egret"]), numberColumn("loft", [34, 31, 30], "deg"), numberColumn("carry", [1, 2, 3], "yd")],
    3,
  );
}
