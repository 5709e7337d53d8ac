import { isRecord } from "../is-record";
import { decodeBase64 } from "./base64";

/** What the page sends when a person saves a figure. It names no file: where the figure goes, the person says. */
export interface FigureMessage {
  readonly type: "save-figure";
  /** The number of the question, for the answer. */
  readonly question: number;
  /** The output that the chart is in, as the extension marked it; `""` where it did not. */
  readonly output: string;
  readonly form: "svg" | "png";
  /** Pixels of the figure. */
  readonly width: number;
  readonly height: number;
  /** The text of an SVG document, or a PNG in base64. */
  readonly content: string;
}

/** What the page is told then. */
export interface FigureAnswer {
  readonly type: "figure-answer";
  readonly question: number;
  /** What was done, or why nothing was, for the person. */
  readonly text: string;
}

/** Asks the page to offer saving the chart of an output. */
export interface FigureRequest {
  readonly type: "offer-figure";
  readonly output: string;
}

/** A figure that was checked: its bytes are what its form says, and of the size stated. */
export interface CheckedFigure {
  readonly question: number;
  readonly output: string;
  readonly form: FigureMessage["form"];
  /** Text for an SVG, bytes for a PNG. */
  readonly content: string | Uint8Array;
}

/** Characters that a figure may have. */
const mostCharacters = 40_000_000;

/** True for a message that means to save a figure, well-formed or not; then it has a question to answer. */
export function isFigureMessage(value: unknown): value is { readonly type: "save-figure"; readonly question: number } {
  return isRecord(value) && value["type"] === "save-figure" && Number.isSafeInteger(value["question"]);
}

/** The figure in a value that another program may have sent; `null` when it is none, is too large, or is not what it says. */
export function readFigureMessage(value: unknown): CheckedFigure | null {
  if (!isFigureMessage(value)) return null;
  const { question, output, form, width, height, content } = value as unknown as Readonly<Record<keyof FigureMessage, unknown>>;
  if (typeof output !== "string" || typeof content !== "string" || content.length > mostCharacters) return null;
  if (!isSize(width) || !isSize(height)) return null;
  if (form === "svg") return isFigureSvg(content, width, height) ? { question: question as number, output, form, content } : null;
  const bytes = form === "png" ? decodeBase64(content) : null;
  return bytes !== null && isPng(bytes, width, height) ? { question: question as number, output, form: "png", content: bytes } : null;
}

/** The question's answer in a value that another program may have sent; `null` when it is none. */
export function readFigureAnswer(value: unknown): FigureAnswer | null {
  if (!isRecord(value) || value["type"] !== "figure-answer" || !Number.isSafeInteger(value["question"]) || typeof value["text"] !== "string") return null;
  return { type: "figure-answer", question: value["question"] as number, text: value["text"] };
}

/** The request in a value that another program may have sent; `null` when it is none. */
export function readFigureRequest(value: unknown): FigureRequest | null {
  return isRecord(value) && value["type"] === "offer-figure" && typeof value["output"] === "string" ? { type: "offer-figure", output: value["output"] } : null;
}

function isSize(value: unknown): value is number {
  return Number.isSafeInteger(value) && (value as number) > 0 && (value as number) <= 16_384;
}

/** True for one SVG element of the size stated, closed at the end, that holds no script and refers to nothing outside. */
function isFigureSvg(text: string, width: number, height: number): boolean {
  const root = /^<svg\b[^<>]*>/u.exec(text)?.[0];
  if (root === undefined || !text.trimEnd().endsWith("</svg>")) return false;
  if (!root.includes(` width="${width}"`) || !root.includes(` height="${height}"`)) return false;
  return !/<(?:script|foreignObject|image|iframe|object|embed|link|use)\b|<[^>]*\son[a-z]+\s*=|<[^>]*\shref\s*=\s*"[^#"]|<!|<\?/iu.test(text);
}

const signature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 0x49, 0x48, 0x44, 0x52];

/** True for bytes that begin as a PNG of the size stated. Source: PNG, third edition, 5.2 and 11.2.1. */
function isPng(bytes: Uint8Array, width: number, height: number): boolean {
  if (bytes.length < 33 || !signature.every((each, i) => bytes[i] === each)) return false;
  const header = new DataView(bytes.buffer, bytes.byteOffset);
  return header.getUint32(16) === width && header.getUint32(20) === height;
}
