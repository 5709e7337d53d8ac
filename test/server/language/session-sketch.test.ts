import { expect, test } from "vitest";
import { schemaOfProfile, type ProfiledSession } from "../../../core/profile-loader";
import { profileHere } from "../../../server/language/profile-session";
import { sketchSession, withKnown } from "../../../server/language/session-sketch";
import { memoryFiles } from "../../support/memory-files";
import { smallFiles, smallSession } from "../../support/small-session";

const path = "s/one.session.yaml";

/** The columns of a profile as `name unit`, with the heads and the least carry where they are known. */
function told(profile: ProfiledSession): { readonly columns: readonly string[]; readonly heads: unknown; readonly carry: number | undefined } | null {
  const schema = schemaOfProfile(profile);
  if (schema === null) return null;
  const named = (name: string) => schema.columns.find((column) => column.name === name);
  return {
    columns: schema.columns.map(({ name, unit }) => (unit === null ? name : `${name} ${unit}`)),
    heads: named("head")?.values,
    carry: named("carry")?.range?.low,
  };
}

const sketch = (text: string) => sketchSession(path, memoryFiles({ [path]: text }));
const profiled = (text: string) => profileHere(path, memoryFiles({ ...smallFiles, [path]: text }));

test("the text of a session alone tells the columns that it maps and the heads that it describes, as its exports would", async () => {
  const whole = told(await profiled(smallSession("one")))!;
  const styles = [["order: shot", "order: shot"], ["order: shot", 'order: shot, delimiter: ";", skip_lines: 3']] as const;
  for (const [from, to] of styles) expect(told(await sketch(smallSession("one").replace(from, to)))).toEqual({ ...whole, heads: ["Heron", "Wren"], carry: undefined });
  expect(told(await sketch("session: [broken"))).toBeNull();
  expect(await sketchSession(path, memoryFiles({}))).toMatchObject({ table: null, fault: "missing" });
});

test("what was known of the exports stays known where the text says the same of it", async () => {
  const before = await profiled(smallSession("one").replace("  offline: { from: Side, unit: yd, positive: right }\n", ""));
  const same = await sketch(smallSession("two").replace("  offline: { from: Side, unit: yd, positive: right }\n", ""));
  expect(withKnown(same, before)).toBe(before);
  const more = withKnown(await sketch(smallSession("one").replace("carry: { from: Carry, unit: yd }", "carry: { from: Carry, unit: m }").replace("  Heron:", "  Plover:")), before);
  expect(told(more)).toMatchObject({ columns: expect.arrayContaining(["carry m", "offline yd"]), heads: ["Plover", "Wren"], carry: undefined });
  expect(more.table!.sessions[0]!.heads.map(({ name }) => name)).toEqual(["Wren", "Plover"]);
  expect(withKnown(await sketch("session: [broken"), before)).toBe(before);
});
