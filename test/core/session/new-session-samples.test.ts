import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { proposeSession, type GivenExport, type ProposedColumn } from "../../../core/session/new-session";
import { readSession } from "../../../core/session/read-session";
import type { ColumnMap } from "../../../core/session/session";
import { shotColumns } from "../../../core/table/shot-columns";

const folder = path.resolve(import.meta.dirname, "../../../sample-notebooks/sessions");

/** What differs between a proposal and the session that a person wrote, but for directions that only the person knows. */
function differences(proposed: ProposedColumn, map: ColumnMap): readonly string[] {
  const { direction } = shotColumns[map.column];
  const positive = direction === null || map.sides !== null ? null : direction[map.flipped ? 1 : 0];
  const sides = map.sides === null ? null : `${map.sides.negative}/${map.sides.positive}`;
  return [
    ...(proposed.column === map.column ? [] : [`${proposed.header} is ${map.column}, not ${proposed.column ?? "asked"}`]),
    ...(proposed.unit === map.unit ? [] : [`${proposed.header} is in ${map.unit ?? "no unit"}, not ${proposed.unit ?? "asked"}`]),
    ...(proposed.sides === sides ? [] : [`${proposed.header} has sides ${sides ?? "none"}, not ${proposed.sides ?? "none"}`]),
    ...(proposed.positive === null || proposed.positive === positive ? [] : [`positive numbers of ${proposed.header} are ${positive ?? "of no side"}, not ${proposed.positive}`]),
  ];
}

/** Expects that what is proposed for the exports of a session is what the session says, and that these headers alone are asked. */
function checkProposal(name: string, asked: readonly string[]): void {
  const session = readSession(readFileSync(path.join(folder, `${name}.session.yaml`), "utf8")).value!;
  const exports = session.sources.map(({ file }): GivenExport => ({ file, bytes: new Uint8Array(readFileSync(path.join(folder, file))) }));
  const { value: proposal } = proposeSession(exports, defaultLimits);
  const mapped = new Map(session.columns.map((map) => [map.header, map]));
  expect(proposal.columns.flatMap((proposed) => (mapped.has(proposed.header) ? differences(proposed, mapped.get(proposed.header)!) : []))).toEqual([]);
  expect(proposal.columns.filter(({ column }) => column !== "keep").map(({ header }) => header).toSorted()).toEqual([...mapped.keys()].toSorted());
  expect(proposal.columns.filter(({ certainty }) => certainty === "ask").map(({ header }) => header)).toEqual(asked);
  expect(proposal.order).toBe(session.sources[0]!.order);
  expect(proposal.exports.map(({ delimiter, decimal, skipLines }) => ({ delimiter, decimal, skipLines }))).toEqual(session.sources.map((source) => ({ delimiter: { ",": "comma", ";": "semicolon", "\t": "tab", "|": "bar" }[source.delimiter ?? ","], decimal: source.decimal ?? ".", skipLines: source.skipLines })));
  expect(proposal.missing).toEqual(session.missing);
}

test("spring-bay-1 is proposed as its session has it", () => checkProposal("spring-bay-1", ["Face X", "Face Y"]));
test("summer-net-1 is proposed as its session has it", () => checkProposal("summer-net-1", []));
test("winter-bay-1 is proposed as its session has it", () => checkProposal("winter-bay-1", ["path deg", "face deg", "start deg", "tilt deg", "side yd"]));
test("autumn-range-1 is proposed as its session has it", () => checkProposal("autumn-range-1", ["Path [°]", "Face [°]", "Off line [°]", "Tilt [°]", "Aside [m]"]));
