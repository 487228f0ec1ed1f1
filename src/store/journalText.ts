import { type Finding, JOURNAL_SCHEMA, type JournalLine, PlatepoolError } from "../model/index.ts";
import { journalLineSchema } from "./journalSchema.ts";

/** Name of the decisions' journal in a run folder: a line that names the format, then one act a line, only added to. */
export const JOURNAL_FILE = "decisions.jsonl";
/** What a crash left of a line that was never reported kept. */
export const TORN_FILE = "decisions.torn.txt";

/** The first line. */
export const HEADER = JSON.stringify({ format: JOURNAL_SCHEMA });

export interface JournalText {
  /** In the order in which they were kept, ids rising. */
  readonly lines: readonly JournalLine[];
  readonly findings: readonly Finding[];
  /** Length in bytes of what a crash left at the end; 0: the last line is whole. */
  readonly torn: number;
  /** Number of the torn line. */
  readonly tornLine: number;
  /** True where the last line is whole but for its line end, as an editor may leave it. */
  readonly open: boolean;
}

/**
 * Takes a journal apart. A line that is no act is told and passed over.
 * @throws PlatepoolError decisions-format
 */
export function parseJournal(bytes: Uint8Array): JournalText {
  const texts = new TextDecoder().decode(bytes).split("\n");
  const rest = texts.pop() ?? "";
  const open = rest !== "" && (texts.length === 0 ? isHeader(rest) : parseLine(rest) !== null);
  if (open) texts.push(rest);
  const first = texts[0] ?? rest;
  // What a crash left of the very first line is the beginning of ours; anything else is somebody's, and not to be touched.
  if (!isHeader(first) && !(texts.length === 0 && HEADER.startsWith(first))) throw wrongFormat(first);
  const lines: JournalLine[] = [];
  const findings: Finding[] = [];
  texts.slice(1).forEach((text, i) => {
    if (text.trim() === "") return;
    const line = parseLine(text);
    const last = lines.at(-1)?.id ?? 0;
    if (line === null) findings.push(passedOver(i + 2, "is no act"));
    else if (line.id > last) lines.push(line);
    else findings.push(passedOver(i + 2, `act ${line.id} stands there out of order`));
  });
  const torn = open ? 0 : bytes.length - 1 - bytes.lastIndexOf(0x0a);
  return { lines, findings, torn, tornLine: texts.length + 1, open };
}

function formatOf(text: string): unknown {
  try {
    return (JSON.parse(text) as { format?: unknown } | null)?.format;
  } catch {
    return undefined;
  }
}

function isHeader(text: string): boolean {
  return formatOf(text) === JOURNAL_SCHEMA;
}

function wrongFormat(text: string): PlatepoolError {
  const format = formatOf(text);
  const words =
    typeof format === "string"
      ? `is of format ${format.slice(0, 60)}, this program knows ${JOURNAL_SCHEMA}: use the version of platepool that wrote it, or move the file out of the folder`
      : `does not say {"format":"${JOURNAL_SCHEMA}"}: mend that line, or move the file out of the folder`;
  return new PlatepoolError("decisions-format", `${JOURNAL_FILE} line 1: ${words}`);
}

function parseLine(text: string): JournalLine | null {
  try {
    const parsed = journalLineSchema.safeParse(JSON.parse(text));
    return parsed.success ? parsed.data : null;
  } catch {
    return null;
  }
}

function passedOver(number: number, what: string): Finding {
  return {
    code: "decision-line-unreadable",
    message: `${JOURNAL_FILE} line ${number}: ${what}; it is passed over.`,
    remedy: "Mend it by hand, or decide that again.",
    where: {},
  };
}

/** Tells of a journal that this program cannot use. */
export function unusableFinding({ code, message }: PlatepoolError): Finding {
  return {
    code,
    message: `${message}.`,
    remedy: "Until then it stays as it is: nothing in it counts, and nothing can be decided.",
    where: {},
  };
}

/** Tells of a line that a crash broke off. */
export function tornFinding({ tornLine }: JournalText, aside: boolean): Finding {
  const where = aside ? `what there is of it is in ${TORN_FILE}` : `the next act moves it to ${TORN_FILE}`;
  return {
    code: "decision-line-torn",
    message: `${JOURNAL_FILE} line ${tornLine}: breaks off in the middle, was never kept and does not count; ${where}.`,
    remedy: "Decide that again if it is missing.",
    where: {},
  };
}
