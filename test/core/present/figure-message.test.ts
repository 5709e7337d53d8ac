import { expect, test } from "vitest";
import { decodeBase64 } from "../../../core/present/base64";
import { readFigureMessage } from "../../../core/present/figure-message";
import { figureName } from "../../../core/report/figure-name";

/** A PNG of 1 by 1 pixel. */
const png = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNkYPhfDwAChwGA60e6kgAAAABJRU5ErkJggg==";
const svg = '<svg xmlns="http://www.w3.org/2000/svg" width="20" height="10" viewBox="0 0 20 10"><path d="M0,0"/></svg>\n';

function checkRead(message: object, isFigure: boolean): void {
  const usual = { type: "save-figure", question: 1, output: "output 1", form: "svg", width: 20, height: 10, content: svg };
  expect(readFigureMessage({ ...usual, ...message }) !== null, JSON.stringify(message)).toBe(isFigure);
}

test("a figure is taken that is what it says and of the size that it says", () => {
  checkRead({}, true);
  checkRead({ form: "png", content: png, width: 1, height: 1 }, true);
  checkRead({ form: "png", content: png, width: 2, height: 1 }, false);
  checkRead({ form: "png", content: svg }, false);
  checkRead({ form: "gif" }, false);
  checkRead({ width: 21 }, false);
  checkRead({ width: "20" }, false);
  checkRead({ output: 3 }, false);
  checkRead({ content: "x".repeat(40_000_001) }, false);
});

test("an SVG that runs or loads something is no figure", () => {
  for (const inside of ['<script>1</script>', '<image href="a.png"/>', '<path onload="x"/>', '<a href="https://a.example"></a>', "<foreignObject/>"])
    checkRead({ content: svg.replace("<path", `${inside}<path`) }, false);
  checkRead({ content: `<!DOCTYPE svg>${svg}` }, false);
  checkRead({ content: svg.replace("</svg>", "") }, false);
});

test("base64 is read as the standard's examples have it, and nothing else", () => {
  // Source: RFC 4648, section 10.
  const examples = { "": "", "Zg==": "f", "Zm8=": "fo", "Zm9v": "foo", "Zm9vYg==": "foob", "Zm9vYmFy": "foobar" };
  for (const [text, plain] of Object.entries(examples)) expect(String.fromCharCode(...decodeBase64(text)!)).toBe(plain);
  expect(decodeBase64("Zg=")).toBeNull();
  expect(decodeBase64("Z-==")).toBeNull();
});

test("a figure's file is named after notebook and cell", () => {
  expect(figureName("Three irons.shots.md", "Where they land!")).toBe("three-irons-where-they-land");
  expect(figureName("../../etc.shots.md", "")).toBe("etc");
  expect(figureName(".shots.md", "…")).toBe("figure");
});
