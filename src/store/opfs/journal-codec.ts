/**
 * Journal lines as bytes: one JSON object a line, `{"sum":"…","line":{…}}`, `sum` the CRC-32 of the line's own JSON. What
 * has to come whole or not at all stands in one such line, `{"kind":"together","lines":[…]}`: torn, none of it is read. On
 * disk a quarantined entry has the kind `aside`, and the first line of a new generation is
 * `{"kind":"anew","turn":…,"lines":…}`: so it was first written, and so it is read for ever.
 */
import type { JournalLine } from '../journal-contents.ts';
import type { StoredRow } from '../port.ts';

/** First line of a file that takes the place of the other one, once the `lines` after it are all there. */
export interface GenerationLine {
  kind: 'generation';
  /** Counts up from 1; the highest whole one stands. */
  generation: number;
  lines: number;
}

const table = Uint32Array.from({ length: 256 }, (_, i) => {
  let c = i;
  for (let bit = 0; bit < 8; bit++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c;
});

/**
 * CRC-32 (ISO 3309, as in gzip), eight hexadecimal digits.
 *
 * @example crc32(new TextEncoder().encode('123456789')) // 'cbf43926', the check value of the usual CRC catalogues
 */
export function crc32(bytes: Uint8Array): string {
  let c = 0xffffffff;
  // By index: an iterator takes several times as long, and a start reads megabytes.
  for (let i = 0; i < bytes.length; i++) c = (table[(c ^ (bytes[i] as number)) & 0xff] as number) ^ (c >>> 8);
  return ((c ^ 0xffffffff) >>> 0).toString(16).padStart(8, '0');
}

const utf8 = new TextEncoder();
const fromUtf8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
const NEWLINE = 10;
/** Around the line's own JSON: `before`, the sum, `between`, the JSON, `after`. */
const [before, between, after] = ['{"sum":"', '","line":', '}'];
const sumAt = before.length;
const jsonAt = sumAt + 8 + between.length;

type LineOnDisk =
  | Exclude<JournalLine, { kind: 'quarantined' }>
  | { kind: 'aside'; caseId: string; entry: StoredRow }
  | { kind: 'anew'; turn: number; lines: number };
type Together = { kind: 'together'; lines: LineOnDisk[] };

function toDisk(line: JournalLine | GenerationLine): LineOnDisk {
  if (line.kind === 'generation') return { kind: 'anew', turn: line.generation, lines: line.lines };
  if (line.kind === 'quarantined') return { kind: 'aside', caseId: line.caseId, entry: line.entry };
  // Only the kinds of entries are left, which the compiler cannot narrow a union of kinds to.
  return line;
}

function fromDisk(line: LineOnDisk): JournalLine | GenerationLine {
  if (line.kind === 'anew') return { kind: 'generation', generation: line.turn, lines: line.lines };
  if (line.kind === 'aside') return { kind: 'quarantined', caseId: line.caseId, entry: line.entry };
  return line;
}

/** The bytes of some lines, each ended by a newline. */
export const encode = (lines: readonly (JournalLine | GenerationLine)[]): Uint8Array =>
  utf8.encode(lines.map((line) => framed(toDisk(line))).join(''));

/** The bytes of some lines that are read all together or not at all. */
export const encodeTogether = (lines: readonly JournalLine[]): Uint8Array =>
  lines.length === 1 ? encode(lines) : utf8.encode(framed({ kind: 'together', lines: lines.map(toDisk) }));

function framed(line: LineOnDisk | Together): string {
  const json = JSON.stringify(line);
  return `${before}${crc32(utf8.encode(json))}${between}${json}${after}\n`;
}

export interface Decoded {
  lines: JournalLine[];
  start?: GenerationLine;
  /** How many bytes from the start are kept: up to and with the last newline of a line that can be read. */
  kept: number;
  /** Bytes after that: the end of a write that never finished. */
  damaged: number;
  /** Numbers (from 1) of unreadable lines before the last readable one. */
  unreadable: number[];
}

/** Reads lines back. Never throws: an unreadable line in the middle is skipped and reported, a damaged end is measured. */
export function decode(bytes: Uint8Array): Decoded {
  const lines: JournalLine[] = [];
  let first: GenerationLine | undefined;
  const bad: { number: number; before: number }[] = [];
  let kept = 0;
  let number = 0;
  for (let start = 0; start < bytes.length;) {
    const end = bytes.indexOf(NEWLINE, start);
    number++;
    if (end < 0) break;
    const read = decodeLine(bytes.subarray(start, end));
    start = end + 1;
    for (const line of read ?? []) {
      if (line.kind === 'generation') first = line;
      else lines.push(line);
    }
    if (read) kept = start;
    else bad.push({ number, before: lines.length });
  }
  const unreadable = bad.filter((b) => b.before < lines.length).map((b) => b.number);
  return { lines, ...(first && { start: first }), kept, damaged: bytes.length - kept, unreadable };
}

function decodeLine(bytes: Uint8Array): (JournalLine | GenerationLine)[] | undefined {
  const json = bytes.subarray(jsonAt, bytes.length - after.length);
  try {
    const text = fromUtf8.decode(bytes);
    const isFramed = text.startsWith(before) && text.startsWith(between, sumAt + 8) && text.endsWith(after);
    if (!isFramed || text.slice(sumAt, sumAt + 8) !== crc32(json)) return undefined;
    const line = JSON.parse(text.slice(jsonAt, text.length - after.length)) as LineOnDisk | Together;
    return line.kind === 'together' ? line.lines.map(fromDisk) : [fromDisk(line)];
  } catch {
    // Bytes that are no text or no JSON: the line is counted as unreadable, and told.
    return undefined;
  }
}
