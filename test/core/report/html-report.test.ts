import { expect, test } from "vitest";
import { reported } from "../../support/reported";
import { notebookText, smallExport, smallFiles, smallSession } from "../../support/small-session";
import { elementsOf, readXml, textOf, type XmlElement } from "../../support/well-formed";

const front = "title: Two heads\nshots: s/one.session.yaml\nmargin: { carry: 3 yd }\nseed: 7";
const chartBody = '{ "mark": "point", "encoding": { "x": { "field": "offline", "type": "quantitative" }, "y": { "field": "carry", "type": "quantitative" }, "color": { "field": "head", "type": "nominal" } } }';
const chart = (name: string, from = "a"): string => `chart=${name} table=${from} description="Carry against offline, by head."\n${chartBody}`;

/** A notebook of prose alone. */
const prose = (...texts: readonly string[]): string => ["---", front, "---", "", ...texts, ""].join("\n");

async function page(text: string, files: Readonly<Record<string, string>> = smallFiles): Promise<XmlElement> {
  return readXml(await reported(text, "html", files));
}

async function elements(text: string, name: string, files = smallFiles): Promise<readonly XmlElement[]> {
  return elementsOf(await page(text, files)).filter((each) => each.name === name);
}

/** Expects what the prose of a page becomes: the names of the elements in its main part, each once. */
async function checkProse(text: string, names: readonly string[]): Promise<void> {
  const [main] = await elements(prose(text), "main");
  expect([...new Set(elementsOf(main!).slice(1).map(({ name }) => name))].sort()).toEqual([...names].sort());
}

/** Expects the levels and words of the headings of a page, but for the last, below which its sources stand. */
async function checkHeadings(text: string, headings: readonly string[]): Promise<void> {
  const found = elementsOf(await page(prose(text))).filter(({ name }) => /^h[1-6]$/u.test(name));
  expect(found.slice(0, -1).map((each) => `${each.name} ${textOf(each)}`)).toEqual(headings);
}

const names = (root: XmlElement): readonly string[] => elementsOf(root).map(({ name }) => name);

test("a report says title, synthetic data, answer, rows, picture, method and query, each in its place", async () => {
  const root = await page(notebookText(front, "query=gap\nshots.compare({ of: \"carry\", by: \"head\" })"));
  const text = textOf(root);
  expect(text.indexOf("Synthetic data: no shot behind these numbers was hit.")).toBeLessThan(text.indexOf("Query of gap"));
  for (const words of ["Two heads", "Report of n.shots.md", "gap: ", "carry", "Method: ", 'shots.compare({ of: "carry", by: "head" })']) expect(text).toContain(words);
  expect(names(root)).toEqual(expect.arrayContaining(["header", "main", "section", "details", "summary", "caption", "thead", "figure", "svg", "figcaption"]));
});

test("X-03 every page has one title, a language, landmarks, and names that lead somewhere", async () => {
  const root = await page(notebookText(front, "query=a\nshots", chart("b"), chart("c")).replace("\n```js", "\n# One\n\n## Two\n\n# One\n\n#### Three\n\n[to](#part-two)\n\n```js"));
  const all = elementsOf(root);
  expect(root.attributes["lang"]).toBe("en");
  expect(all.filter(({ name }) => name === "h1").map(textOf)).toEqual(["Two heads"]);
  const ids = all.flatMap(({ attributes }) => attributes["id"] ?? []);
  expect(ids).toEqual([...new Set(ids)]);
  const used = all.flatMap(({ attributes }) => Object.entries(attributes).flatMap(([key, value]) => (key === "href" && value.startsWith("#") ? [value.slice(1)] : /^aria-(?:labelled|described)by$/u.test(key) ? [value] : [...value.matchAll(/url\(#([^)]*)\)/gu)].map((found) => found[1]!))));
  expect(used.filter((id) => !ids.includes(id))).toEqual([]);
  expect(used.length).toBeGreaterThan(6);
});

test("a chart is one picture with a title and a description, and its numbers are folded below", async () => {
  const root = await page(notebookText(front, "query=a\nshots", chart("b")));
  const [svg] = elementsOf(root).filter(({ name }) => name === "svg");
  expect(svg!.attributes).toMatchObject({ role: "img", "aria-labelledby": "cell-b-1-title", "aria-describedby": "cell-b-1-desc" });
  expect(svg!.children.slice(0, 2).map((child) => textOf(child as XmlElement))).toEqual(["b", expect.stringContaining("Carry against offline, by head.")]);
  expect(elementsOf(svg!).slice(1).filter(({ attributes }) => "role" in attributes || "aria-label" in attributes)).toEqual([]);
  expect(textOf(root)).toContain("Numbers that b draws");
});

test("a table has its units in the head, its rows counted, missing marked, and more rows said", async () => {
  const many = ["No,Club,Ball speed,Carry,Side", ...Array.from({ length: 60 }, (_, i) => `${i + 1},Wren,112.0,${i === 0 ? "" : "150.5"},1.0`), ""].join("\n");
  const [table] = await elements(notebookText(front, "query=a\nshots"), "table", { ...smallFiles, "s/small.csv": many });
  const text = textOf(table!);
  expect(text).toContain("a: showing 1–50 of 60 rows");
  expect(text).toContain("carry (yd)");
  expect(elementsOf(table!).filter(({ name }) => name === "tr")).toHaveLength(51);
  expect(elementsOf(table!).filter(({ name }) => name === "abbr").map(({ attributes }) => attributes["title"])).toContain("missing");
  expect(elementsOf(table!).filter(({ name, attributes }) => name === "th" && !("scope" in attributes))).toEqual([]);
});

test("a heading that repeats the title is left out, and no level is", async () => {
  await checkHeadings("# Two heads\n\n## A\n\n#### B\n\n## C", ["h1 Two heads", "h2 A", "h3 B", "h2 C"]);
  await checkHeadings("# One\n\n## A\n\n# Two", ["h1 Two heads", "h2 One", "h3 A", "h2 Two"]);
  await checkHeadings("###### Deep", ["h1 Two heads", "h2 Deep"]);
});

test("H-09 HTML in prose is text, and no picture is loaded", async () => {
  await checkProse('<video onmouseover="x()"></video>\n\n<script>alert(1)</script>\n\na <b>c</b> <!-- d', ["p"]);
  await checkProse("![alt](https://example.org/x.png) ![d](data:image/png;base64,AAAA) ![e](x.svg)", ["p", "span"]);
});

test("H-09 an address that runs something or names a file of the machine leads nowhere", async () => {
  for (const address of ["javascript:alert(1)", "JaVaScRiPt:alert(1)", "command:evil", "vscode://x", "data:text/html,x", "file:///etc/passwd", "/etc/passwd", "//example.org/x", "vbscript:x"])
    await checkProse(`[x](${address})`, ["p"]);
  await checkProse("[x](https://example.org/) [y](other.md) [z](#part)", ["p", "a"]);
});

test("H-09 deep and long markup ends in a page", async () => {
  for (const text of ["*".repeat(70_000), "[".repeat(5_000), "> ".repeat(2_000), `${"- ".repeat(2_000)}x`]) expect(names(await page(prose(text)))).toContain("main");
});

test("X-03 what stands in heads, headers and texts of the data is text in the page", async () => {
  const evil = "</script><img src=x onerror=alert(1)><!-- ]]> \u2028 & \u202egnp ' `";
  const files = {
    "s/one.session.yaml": smallSession("one").replace("  Wren:", `  ${JSON.stringify(evil)}:`),
    "s/small.csv": smallExport.replaceAll("Wren", `"${evil}"`),
  };
  const root = await page(notebookText(front, "query=a\nshots", chart("b")), files);
  const harmless = names(await page(notebookText(front, "query=a\nshots", chart("b"))));
  expect([...new Set(names(root))].sort()).toEqual([...new Set(harmless)].sort());
  expect(textOf(root)).toContain("</script><img src=x onerror=alert(1)><!-- ]]> \\u2028 & \\u202egnp ' `");
  expect(elementsOf(root).flatMap(({ attributes }) => Object.keys(attributes)).filter((name) => name.startsWith("on") || name === "src")).toEqual([]);
});

test("X-03 a word of 100 KB is cut in a table, and control characters are shown", async () => {
  const [table] = await elements(notebookText(front, `query=a\nshots.derive({ word: d => ${JSON.stringify("w".repeat(50_000))} })`), "table");
  expect(textOf(table!).length).toBeLessThan(10_000);
  const title = await page(notebookText(front.replace("Two heads", '"a\\e[31mb\\u202e"'), "query=a\nshots"));
  expect(textOf(elementsOf(title).find(({ name }) => name === "h1")!)).toBe("a\\u001b[31mb\\u202e");
});

test("X-04 nothing is fetched: no script, no address but those that the author wrote, and a policy that says so", async () => {
  const html = await reported(notebookText(front, "query=a\nshots", chart("b")), "html");
  expect(html).toContain("http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\"");
  expect(html.replaceAll(/ xmlns(?::xlink)?="http:\/\/www\.w3\.org\/[\w/]+"/gu, "")).not.toMatch(/https?:|\bsrc=|<script|<link|@import|url\((?!#)/u);
});

test("X-05 the same run gives the same bytes, wherever its folder is", async () => {
  const text = notebookText(front, "query=a\nshots", chart("b"));
  const html = await reported(text, "html");
  const elsewhere = Object.fromEntries(Object.entries(smallFiles).map(([path, content]) => [`deep/er/${path}`, content]));
  expect(await reported(text, "html", elsewhere, "deep/er/n.shots.md")).toBe(html);
  expect(await reported(text, "html")).toBe(html);
});

test("X-05 lengths of a chart have no more digits than machines agree on", async () => {
  const [svg] = await elements(notebookText(front, 'query=gap\nshots.compare({ of: "carry", by: "head" })'), "svg");
  const lengths = elementsOf(svg!).flatMap(({ attributes }) => [attributes["d"], attributes["transform"], attributes["x2"], attributes["y2"]].filter((value) => value !== undefined));
  expect(lengths.length).toBeGreaterThan(20);
  expect(lengths.filter((value) => /\.\d{4}|e-/u.test(value))).toEqual([]);
});

test("X-10 cells without a result are named at the top, with why", async () => {
  const root = await page(notebookText(front, "query=a\nshots.filter(d => d.cary > 1)", "query=b\na.count()", "query=c\nshots.count()"));
  const text = textOf(elementsOf(root).find(({ name }) => name === "header")!);
  expect(text).toContain("2 of 3 cells have no result: a, b");
  expect(textOf(root)).toContain("a – failed, no result");
  expect(textOf(root)).toContain("b – blocked, no result");
  expect(textOf(root)).toMatch(/Error: .*cary/u);
});

test("where the numbers come from: inputs with SHA-256 and bytes, settings, heads, what was set aside and corrected", async () => {
  const session = `${smallSession("one")}set_aside:\n  - { shot: 3, column: carry, because: net moved }\ncorrections:\n  - { shots: 4-5, column: head, value: Wren, because: mixed up }\n`;
  const root = await page(notebookText(front, "query=a\nshots"), { ...smallFiles, "s/one.session.yaml": session });
  const text = textOf(elementsOf(root).find(({ attributes }) => attributes["class"] === "provenance")!);
  for (const words of ["Fairstrike 0.0.0", "carry 3 yd (this notebook)", "s/small.csv", String(smallExport.length), "Seed of chance7", "net moved", "149 yd", "mixed up", "34°", "synthetic"]) expect(text).toContain(words);
  expect(text.match(/[0-9a-f]{64}/gu)).toHaveLength(3);
});

test("a file that is not there is said at the top, and has no digest", async () => {
  const root = await page(notebookText(front, "query=a\nshots"), { "s/one.session.yaml": smallSession("one") });
  expect(textOf(elementsOf(root).find(({ name }) => name === "header")!)).toContain("Error:");
  expect(textOf(root)).toContain("could not be read");
});

/** Three choices, of which one is of a column with another name, and cells that use them themselves, through others, or not. */
const chosenCells = notebookText(
  `${front}\nchoose:\n  head: { of: head, is: [Wren] }\n  window: { of: carry, from: 150 yd, to: 155 yd }\n  what: { among: [carry, offline], is: carry }\n  side: { of: offline, is: any }`,
  'query=near\nshots.choose("head", "window")',
  "query=narrow\nnear.select(\"carry\").choose().describe({ of: chosen.what })",
  "query=after\nnarrow.count()",
  chart("drawn", "near"),
  "query=all\nshots.count()",
);

test("every cell says what is chosen, itself or in the cells it uses, and the choices are listed where the numbers come from", async () => {
  const root = await page(chosenCells);
  const said = elementsOf(root).filter(({ attributes }) => attributes["class"] === "cell").map((cell) => elementsOf(cell).filter(({ attributes }) => attributes["class"] === "chosen").map(textOf));
  expect(said).toEqual([
    ["Chosen: head = Wren; window (carry) = 150 yd to 155 yd"],
    ["Chosen: window (carry) = 150 yd to 155 yd; what = carry", "Chosen in the cells it uses: head = Wren"],
    ["Chosen in the cells it uses: head = Wren; window (carry) = 150 yd to 155 yd; what = carry"],
    ["Chosen in the cells it uses: head = Wren; window (carry) = 150 yd to 155 yd"],
    [],
  ]);
  const table = elementsOf(root).find(({ name, children }) => name === "table" && children.some((child) => typeof child !== "string" && child.name === "caption" && textOf(child) === "Choices"));
  expect(elementsOf(table!).filter(({ name }) => name === "tr").map((row) => elementsOf(row).filter(({ name }) => /^t[dh]$/u.test(name)).map(textOf))).toEqual([
    ["Choice", "Column", "Chosen", "Used in"],
    ["head", "head", "Wren", "near"],
    ["window", "carry", "150 yd to 155 yd", "near, narrow"],
    ["what", "–", "carry (one of carry, offline)", "narrow"],
    ["side", "offline", "any", "no cell"],
  ]);
  expect(await reported(chosenCells, "html")).toBe(await reported(chosenCells, "html"));
});

test("X-03 what is chosen is text in the page", async () => {
  const text = await reported(notebookText(`${front}\nchoose:\n  head: { of: head, is: ['<img src=x onerror=alert(1)>', "\\u202eWren"] }`, "query=a\nshots.choose()"), "html");
  expect(text).toContain('Chosen: head = &lt;img src=x onerror=alert(1)&gt;, \\u202eWren</p>');
  expect(text).not.toContain("<img");
});
