import { expect, test } from "vitest";
import { documentSelector } from "../../extension/host/document-selector";
import { isNotebookText, isSession } from "../../server/language/worked-on";

test("files that are sent are those that the server works on, and no older versions of them", () => {
  const files = documentSelector.filter((each) => !("notebook" in each));
  expect(files).toHaveLength(6);
  for (const each of files) {
    const scheme = "scheme" in each ? each.scheme : "git";
    expect([`${scheme}:///w/a.session.yaml`, `${scheme}:///w/a.shots.md`].map((uri) => isSession(uri) || isNotebookText(uri))).toEqual([true, true]);
  }
  expect([isSession("git:///w/a.session.yaml"), isNotebookText("git:///w/a.shots.md"), isNotebookText("filed:///w/a.shots.md")]).toEqual([false, false, false]);
});
