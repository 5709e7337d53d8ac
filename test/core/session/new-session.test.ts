import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { defaultLimits } from "../../../core/limits";
import { firstAnswers, openQuestions, proposeSession, writeNewSession, type SessionProposal } from "../../../core/session/new-session";
import { answered, checkLoads, exportOf, proposedFrom } from "../../support/new-session";
import { smallExport } from "../../support/small-session";

const samples = path.resolve(import.meta.dirname, "../../../sample-notebooks/sessions");
const sample = (file: string): { file: string; bytes: Uint8Array } => ({ file, bytes: new Uint8Array(readFileSync(path.join(samples, file))) });

const words = (proposal: SessionProposal, header: string): string => {
  const found = proposal.columns.find((column) => column.header === header);
  return found === undefined ? "none" : `${found.column ?? "?"} ${found.unit ?? "?"} ${found.certainty}`;
};

/** Expects what an export of these columns, each a header and its values in the order of the shots, is told to be at one header. */
function checkTold(columns: Readonly<Record<string, readonly (number | string)[]>>, header: string, wanted: string, evidence = ""): void {
  const rows = Array.from({ length: Object.values(columns)[0]!.length }, (_, row) => Object.values(columns).map((values) => `"${values[row]!}"`).join(","));
  const proposal = proposedFrom([Object.keys(columns).map((name) => `"${name}"`).join(","), ...rows, ""].join("\n"));
  expect(words(proposal, header)).toBe(wanted);
  expect(proposal.columns.find((column) => column.header === header)?.evidence).toContain(evidence);
}

test.each([
  ["spring-bay-1.csv", ["Club speed", "club_speed mph sure"], ["Side", "offline yd sure"], ["Face X", "strike_x mm ask"]],
  ["summer-net-1.tsv", ["Ball (mph)", "ball_speed mph sure"], ["Toe (mm)", "strike_x mm sure"], ["Time (s)", "flight_time s sure"]],
  ["winter-bay-1.csv", ["club mph", "club_speed mph sure"], ["side yd", "offline yd ask"]],
  ["autumn-range-1-plover.csv", ["Head [km/h]", "club_speed km/h sure"], ["First bounce [m]", "carry m sure"]],
])("the columns of %s are told", (file, ...wanted) => {
  const proposal = proposeSession([sample(file)], defaultLimits).value;
  expect(proposal.columns.map(({ header }) => header)).toEqual(expect.arrayContaining((wanted as [string, string][]).map(([header]) => header)));
  for (const [header, what] of wanted as [string, string][]) expect(words(proposal, header)).toBe(what);
});

test.each([[["spring-bay-1.csv"]], [["summer-net-1.tsv"]], [["winter-bay-1.csv"]], [["autumn-range-1-heron.csv", "autumn-range-1-plover.csv"]]])("the session written for %s loads without errors", (files) => {
  checkLoads(files.map((file) => sample(file)));
});

test("an export without units is asked where several are plausible", () => {
  const proposal = proposedFrom(smallExport);
  expect(words(proposal, "Carry")).toBe("carry ? ask");
  expect(words(proposal, "Ball speed")).toBe("ball_speed ? ask");
  expect(openQuestions(proposal, firstAnswers(proposal)).filter(({ code }) => code === "unit").map(({ about }) => about)).toEqual(["Ball speed", "Carry", "Side"]);
  expect(writeNewSession(proposal, firstAnswers(proposal)).value).toBeNull();
});

test("plain words of other languages, decimal commas and semicolons are read", () => {
  const proposal = proposedFrom("Nr;Schläger;Ballgeschwindigkeit [km/h];Flugweite [m]\n1;Wren;180,5;140,2\n2;Wren;181,5;141,2\n3;Heron;182,5;139,2\n");
  expect(["Schläger", "Ballgeschwindigkeit [km/h]", "Flugweite [m]"].map((header) => words(proposal, header))).toEqual(["head ? sure", "ball_speed km/h sure", "carry m sure"]);
  expect(proposal.exports[0]).toMatchObject({ delimiter: "semicolon", decimal: ",", shotCount: 3 });
});

test("a summary row is no shot", () => {
  const proposal = proposedFrom(`${smallExport}Average,,114.0,154.0,0.1\n`);
  expect(proposal.exports[0]?.shotCount).toBe(12);
  expect(proposal.exports[0]?.summaryRows.map(({ line }) => line)).toEqual([14]);
});

test.each([
  ["odd headers", smallExport.replace("Carry", '"Carry: ""far"" # {x}"')],
  ["a header twice", smallExport.replace("Side", "Carry")],
  ["no head column", "No,Carry [yd]\n1,150\n2,151\n"],
  ["reversed columns", smallExport.trimEnd().split("\n").map((line) => line.split(",").toReversed().join(",")).join("\n")],
])("a session for an export with %s loads without errors", (_, text) => {
  checkLoads([exportOf(text)]);
});

test.each([["empty", new Uint8Array(0)], ["UTF-16", Uint8Array.from([0xff, 0xfe, 0x41, 0, 0x2c, 0, 0x42, 0])], ["binary", Uint8Array.from({ length: 300 }, (_, i) => (i * 37) % 256)]])("an export that is %s is proposed without an exception", (_, bytes) => {
  expect(proposedFrom(bytes).exports).toHaveLength(1);
});

test("a plan sheet makes the first head the file's and the others corrections", () => {
  const proposal = proposedFrom("No,Carry [yd]\n1,150\n2,151\n3,152\n4,153\n");
  const text = writeNewSession(proposal, answered(proposal, { headsFrom: "plan", plan: "Wren x 2\nHeron: 3-4" })).value?.session ?? "";
  expect(text).toContain("head: Wren");
  expect(text).toContain("{ shots: 3-4, column: head, value: Heron, because: the plan sheet says so }");
});

const ball = [112, 113, 114, 116, 115, 117];
const club = [88, 89, 88.5, 90, 88, 91];
const carry = [150, 152, 149, 158, 157, 160];

test("speeds that go together are sure", () => checkTold({ "Ball [mph]": ball, "Club speed [mph]": club }, "Ball [mph]", "ball_speed mph sure", "fits club_speed"));
test("a ball slower than the club is asked", () => checkTold({ "Ball [mph]": club, "Club speed [mph]": ball }, "Ball [mph]", "? mph ask", "contradicts club_speed in 6 of 6 shots"));
test("a ball too fast for the club is asked", () => checkTold({ "Ball [mph]": ball, "Club speed [km/h]": club }, "Club speed [km/h]", "? km/h ask", "1 to 1.55"));
test("one misread speed is no contradiction", () => checkTold({ "Ball [mph]": [...ball, ...ball, 60], "Club speed [mph]": [...club, ...club, 88] }, "Ball [mph]", "ball_speed mph sure"));
test("a speed without unit has the one that goes with the other speed", () => checkTold({ Ball: ball, "Club speed [mph]": club }, "Ball", "ball_speed mph likely", "beside club_speed only mph is plausible"));
test("yards and metres are not told from one another by the total", () => checkTold({ Carry: carry, "Total [m]": carry.map((yards) => yards * 0.96) }, "Carry", "carry ? ask"));
test("a carry beyond the total is asked", () => checkTold({ "Carry [yd]": carry, "Total [yd]": carry.map((yards) => yards - 20) }, "Total [yd]", "? yd ask", "contradicts carry"));
test("a carry that the ball's speed cannot make is asked", () => checkTold({ "Carry [m]": carry.map((metres) => metres * 2), "Ball [mph]": ball }, "Carry [m]", "? m ask", "contradicts ball_speed"));
test("a speed ratio that is none is asked", () => checkTold({ "Speed ratio": [1.1, 1.11, 1.1, 1.1, 1.12, 1.1], "Ball [mph]": ball, "Club speed [mph]": club }, "Speed ratio", "? ? ask", "contradicts ball_speed and club_speed"));
test("a ball that lands flatter than it starts is asked", () => checkTold({ "Launch [deg]": [40, 41, 42, 40], "Descent [deg]": [20, 21, 19, 20] }, "Descent [deg]", "? deg ask", "contradicts launch_angle"));
test("an angle that is out of its range in the stated unit is asked", () => checkTold({ "Face angle [rad]": [12, -11, 14, 9] }, "Face angle [rad]", "face_angle ? ask", "not plausible"));
test("face to path of the other sign is asked", () => checkTold({ "Face to path [deg, right]": [-2, -3, 4, 2], "Face [deg, right]": [1, 1, -1, 1], "Path [deg, right]": [-1, -2, 3, -1] }, "Face to path [deg, right]", "? deg ask", "contradicts face_angle and club_path"));

test("a stated unit under words that say no column is asked, with the columns that are plausible in it", () => {
  const proposal = proposedFrom("No,Ballgeschw. (km/h),Treff X (mm)\n1,180,3\n2,182,-4\n3,181,2\n");
  expect(proposal.columns.map(({ header, column, certainty, columns }) => `${header}: ${column ?? "?"} ${certainty} ${columns.join(" ")}`)).toEqual([
    expect.stringMatching(/^No: shot sure /u),
    "Ballgeschw. (km/h): ? ask club_speed ball_speed landing_speed",
    "Treff X (mm): ? ask strike_x strike_y",
  ]);
  expect(openQuestions(proposal, firstAnswers(proposal)).filter(({ code }) => code === "column").map(({ accepted }) => accepted.at(-1))).toEqual(["keep", "keep"]);
});
test("a unit of the row below the header is asked alike", () => checkTold({ Tempo: ["km/h", 180, 182, 181] }, "Tempo", "? km/h ask", "km/h is stated"));
test("numbers that no column has in the stated unit are kept", () => checkTold({ "Bahn (m)": [9000, 9001, 9002] }, "Bahn (m)", "keep ? likely"));
test("numbers without a unit under words that say no column are kept", () => checkTold({ Puls: [88, 91, 90] }, "Puls", "keep ? likely"));
test("a temperature is kept", () => checkTold({ "Luft (°C)": [18, 19, 19] }, "Luft (°C)", "keep ? likely"));
