import * as vscode from "vscode";
import { boundText, foundText, readBound, type RangeEnd } from "../../core/query/narrow-bound";
import type { Wanted } from "../../core/query/narrow-edits";
import type { ChoiceFacet, Facet, RangeFacet } from "../../core/query/narrow-facets";
import { shotCount, valueLabel } from "./narrow-words";

/** Says how many shots are left of those there are, for what is wanted; empty where they are not counted. */
export type CountLeft = (wanted: Wanted) => Promise<string>;

/** Time after the last key press before shots are counted. */
const pauseMilliseconds = 150;

/** What a person wants of a column now; `null` where they went back. */
export function askColumn(facet: Facet, wanted: Wanted, count: CountLeft): Promise<Wanted | null> {
  if (facet.kind === "choice" && wanted.kind === "choice") return askValues(facet, wanted, count);
  if (facet.kind === "range" && wanted.kind === "range") return askRange(facet, wanted, count);
  return Promise.resolve(null);
}

interface ValueItem extends vscode.QuickPickItem {
  /** `null` stands for rows without a value. */
  readonly value: string | number | boolean | null;
}

async function askValues(facet: ChoiceFacet, wanted: Extract<Wanted, { kind: "choice" }>, count: CountLeft): Promise<Wanted | null> {
  const { column, values, missing } = facet;
  const items: ValueItem[] = values.map(({ value, count: rows }) => ({ label: valueLabel(value), description: rows === 0 ? "in the filter, but on no shot" : shotCount(rows), value }));
  if (missing !== null) items.push({ label: "no value", description: shotCount(missing.count), value: null });
  const pick = vscode.window.createQuickPick<ValueItem>();
  pick.items = items;
  pick.canSelectMany = true;
  pick.selectedItems = items.filter(({ value }) => (value === null ? wanted.missing : wanted.values.includes(value)));
  pick.placeholder = `Tick the values of ${column} to keep`;
  pick.buttons = [vscode.QuickInputButtons.Back];
  const wantedNow = (): Wanted => {
    const ticked = pick.selectedItems.map(({ value }) => value);
    return { kind: "choice", column, values: ticked.filter((value) => value !== null), missing: ticked.includes(null) };
  };
  const live = keepCounting((text) => void (pick.title = titled(column, text)), count);
  const look = (): void => (pick.selectedItems.length === 0 ? live.say("tick one at least") : live.look(wantedNow()));
  look();
  pick.onDidChangeSelection(look);
  return shown(pick, live, () => (pick.selectedItems.length === 0 ? undefined : wantedNow()));
}

async function askRange(facet: RangeFacet, before: Extract<Wanted, { kind: "range" }>, count: CountLeft): Promise<Wanted | null> {
  let wanted = before;
  let step: "low" | "high" | "missing" = "low";
  for (;;) {
    if (step === "missing") {
      const missing = await askMissing(facet, wanted, count);
      if (missing !== null) return { ...wanted, missing };
      step = "high";
      continue;
    }
    const end: RangeEnd = step;
    const given = await askBound(facet, wanted, end, count);
    if (given === null) {
      if (end === "low") return null;
      step = "low";
      continue;
    }
    wanted = given;
    if (end === "low") step = "high";
    else if (facet.missing === null) return wanted;
    else step = "missing";
  }
}

async function askBound(facet: RangeFacet, wanted: Extract<Wanted, { kind: "range" }>, end: RangeEnd, count: CountLeft): Promise<Extract<Wanted, { kind: "range" }> | null> {
  const { column, unit, found } = facet;
  const box = vscode.window.createInputBox();
  box.value = boundText(wanted[end], end);
  box.buttons = [vscode.QuickInputButtons.Back];
  box.step = end === "low" ? 1 : 2;
  box.totalSteps = facet.missing === null ? 2 : 3;
  box.placeholder = end === "low" ? "from: empty for no lower end" : "to: empty for no upper end";
  const range = found === null ? "" : `Found ${foundText(found, unit)}. `;
  box.prompt = `${range}${end === "low" ? "Shots from this number on are kept" : "Shots up to this number are kept"}`;
  const live = keepCounting((text) => void (box.title = titled(`${column}, ${end === "low" ? "from" : "to"}`, text)), count);
  const wantedNow = (): Extract<Wanted, { kind: "range" }> | undefined => {
    const read = readBound(box.value, end, unit);
    if (!read.ok) {
      box.validationMessage = read.because;
      return undefined;
    }
    // A person who asks for a range means shots that have a number, as long as nothing else was said.
    const isFirst = facet.low === null && facet.high === null && read.value !== null;
    const now = { ...wanted, [end]: read.value, missing: isFirst ? false : wanted.missing };
    if (end === "high" && now.low !== null && now.high !== null && now.low.value > now.high.value) {
      box.validationMessage = `The range begins at ${now.low.value}: write that or a greater number`;
      return undefined;
    }
    box.validationMessage = undefined;
    return now;
  };
  const look = (): void => {
    const now = wantedNow();
    if (now === undefined) live.say("");
    else live.look(now);
  };
  look();
  box.onDidChangeValue(look);
  return shown(box, live, wantedNow);
}

interface MissingItem extends vscode.QuickPickItem {
  readonly keeps: boolean;
}

async function askMissing(facet: RangeFacet, wanted: Extract<Wanted, { kind: "range" }>, count: CountLeft): Promise<boolean | null> {
  const { column, missing } = facet;
  const shots = missing?.count ?? null;
  const pick = vscode.window.createQuickPick<MissingItem>();
  pick.items = [
    { label: `Leave out shots without ${column}`, description: shotCount(shots), keeps: false },
    { label: `Keep shots without ${column}`, description: shotCount(shots), keeps: true },
  ];
  pick.activeItems = pick.items.filter(({ keeps }) => keeps === wanted.missing);
  pick.buttons = [vscode.QuickInputButtons.Back];
  pick.step = 3;
  pick.totalSteps = 3;
  const live = keepCounting((text) => void (pick.title = titled(`${column}, missing values`, text)), count);
  pick.onDidChangeActive(([active]) => (active === undefined ? undefined : live.look({ ...wanted, missing: active.keeps })));
  live.look(wanted);
  return shown(pick, live, () => pick.activeItems[0]?.keeps);
}

function titled(of: string, text: string): string {
  return text === "" ? of : `${of}: ${text}`;
}

/** What says how many shots are left while a person chooses. */
interface Counting extends vscode.Disposable {
  readonly look: (wanted: Wanted) => void;
  readonly say: (text: string) => void;
}

function keepCounting(show: (text: string) => void, count: CountLeft): Counting {
  let last = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const say = (text: string): void => {
    last++;
    clearTimeout(timer);
    show(text);
  };
  return {
    say,
    look: (wanted) => {
      const own = ++last;
      clearTimeout(timer);
      timer = setTimeout(() => {
        void count(wanted).then((text) => (own === last ? show(text) : undefined));
      }, pauseMilliseconds);
    },
    dispose: () => {
      last++;
      clearTimeout(timer);
    },
  };
}

/** Shows an input until it is accepted with a value that is one, or left; `null` then. */
function shown<T>(input: vscode.InputBox | vscode.QuickPick<ValueItem> | vscode.QuickPick<MissingItem>, live: Counting, valueNow: () => T | undefined): Promise<T | null> {
  return new Promise((resolve) => {
    input.ignoreFocusOut = true;
    input.onDidTriggerButton(() => input.hide());
    input.onDidAccept(() => {
      const value = valueNow();
      if (value === undefined) return;
      resolve(value);
      input.hide();
    });
    input.onDidHide(() => {
      resolve(null);
      live.dispose();
      input.dispose();
    });
    input.show();
  });
}
