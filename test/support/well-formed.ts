/** An element of a page that is well-formed XML. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly (XmlElement | string)[];
}

const named: Readonly<Record<string, string>> = { "&amp;": "&", "&lt;": "<", "&gt;": ">", "&quot;": '"', "&#39;": "'", "&#9;": "\t", "&#xA;": "\n", "&#xa;": "\n", "&#x9;": "\t" };

/**
 * Reads a page strictly as XML, without declarations but that of the document type.
 *
 * @throws {SyntaxError} where it is not well-formed, with what stands there.
 */
export function readXml(text: string): XmlElement {
  let at = 0;
  const fail = (what: string): never => {
    throw new SyntaxError(`${what}: ${JSON.stringify(text.slice(at, at + 80))}`);
  };
  const take = (pattern: RegExp): RegExpExecArray | null => {
    const sticky = new RegExp(pattern.source, "uy");
    sticky.lastIndex = at;
    const found = sticky.exec(text);
    if (found) at += found[0].length;
    return found;
  };
  // oxlint-disable-next-line no-control-regex -- XML 1.0 (fifth edition), production 2
  if (/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Cs}/u.test(text)) fail("a character that XML has not");
  const decoded = (raw: string): string => raw.replaceAll(/&[^;]{0,12};?/gu, (entity) => named[entity] ?? fail(`the entity ${entity}`));
  take(/<!DOCTYPE html>\s*/);

  function element(): XmlElement {
    const name = take(/<([a-zA-Z][\w:-]*)/)?.[1] ?? fail("no element");
    const attributes: Record<string, string> = {};
    for (let found = take(/\s+([\w:-]+)="([^"<]*)"/); found; found = take(/\s+([\w:-]+)="([^"<]*)"/)) {
      if (Object.hasOwn(attributes, found[1]!)) fail(`${found[1]} twice`);
      attributes[found[1]!] = decoded(found[2]!);
    }
    if (take(/\s*\/>/)) return { name, attributes, children: [] };
    if (!take(/\s*>/)) fail(`inside of <${name}`);
    const children: (XmlElement | string)[] = [];
    for (;;) {
      const words = take(/[^<]+/);
      if (words) {
        if (words[0].includes("]]>")) fail("]]> in text");
        children.push(decoded(words[0]));
      }
      const end = take(/<\/([\w:-]+)>/);
      if (end) return end[1] === name ? { name, attributes, children } : fail(`<${name}> ended by </${end[1]}>`);
      children.push(element());
    }
  }
  const root = element();
  if (text.slice(at).trim() !== "") fail("something behind the end");
  return root;
}

/** The element and all in it, in the order of the page. */
export function elementsOf(root: XmlElement): readonly XmlElement[] {
  return [root, ...root.children.flatMap((child) => (typeof child === "string" ? [] : elementsOf(child)))];
}

/** The text in an element. */
export function textOf(root: XmlElement): string {
  return root.children.map((child) => (typeof child === "string" ? child : textOf(child))).join("");
}
