/** A case file damaged in every way that disks, cables, editors and ill will are known for. */
import { readFileSync } from 'node:fs';

export const whole = readFileSync(new URL('../golden/hard-plate.case.json', import.meta.url));
const text = whole.toString('utf8');
const utf8 = (written: string) => Buffer.from(written, 'utf8');

/** With one bit turned over. */
export function flipped(bytes: Buffer, offset: number, bit: number): Buffer {
  const damaged = Buffer.from(bytes);
  damaged[offset] = (damaged[offset] as number) ^ (1 << bit);
  return damaged;
}

/** The text with the first match replaced; an error when there is none, so that no damage is imagined only. */
const changed = (found: string, put: string) => {
  if (!text.includes(found)) throw new Error(`${found} is not in the file`);
  return utf8(text.replace(found, () => put));
};

const bigEndian = (written: string) => Buffer.from(written, 'utf16le').swap16();
const nested = (depth: number, open: string, close: string) => open.repeat(depth) + close.repeat(depth);
const firstNumber = '"n": 1,';

/** Name and bytes of damaged files that must be refused. */
export const refusedCorpus: [string, Buffer][] = [
  ['nothing at all', Buffer.alloc(0)],
  ['nulls, as a file that was allotted and never written', Buffer.alloc(whole.length)],
  [
    'a block of nulls in the middle',
    Buffer.concat([whole.subarray(0, 8192), Buffer.alloc(4096), whole.subarray(12288)]),
  ],
  ['a block missing in the middle', Buffer.concat([whole.subarray(0, 4096), whole.subarray(8192)])],
  ['a block twice', Buffer.concat([whole.subarray(0, 8192), whole.subarray(4096)])],
  ['the whole file twice', Buffer.concat([whole, whole])],
  ['UTF-16, little end first', Buffer.from(`\ufeff${text}`, 'utf16le')],
  ['UTF-16, big end first', bigEndian(`\ufeff${text}`)],
  ['a letter in Latin-1', Buffer.concat([utf8('{"format":"'), Buffer.from([0xe9]), utf8('"}')])],
  ['an overlong slash', Buffer.concat([utf8('{"format":"'), Buffer.from([0xc0, 0xaf]), utf8('"}')])],
  ['half a surrogate in bytes', Buffer.concat([utf8('{"format":"'), Buffer.from([0xed, 0xa0, 0x80]), utf8('"}')])],
  ['half a surrogate written out', changed('"left"', '"\\ud800"')],
  ['deep lists', utf8(nested(1_000_000, '[', ']'))],
  ['deep objects', utf8(nested(500_000, '{"a":', '}').replace('{"a":}', '{"a":0}'))],
  ['deep lists never closed', utf8('['.repeat(2_000_000))],
  ['16 MiB of one string', utf8(`"${'a'.repeat(16 * 1024 * 1024 - 2)}"`)],
  ['16 MiB of commas', utf8(`[${','.repeat(16 * 1024 * 1024 - 2)}]`)],
  ['16 MiB of quotes', utf8('"'.repeat(16 * 1024 * 1024))],
  ['16 MiB of escapes', utf8(`"${'\\'.repeat(16 * 1024 * 1024 - 1)}`)],
  ['more than 16 MiB', Buffer.alloc(16 * 1024 * 1024 + 1, 0x20)],
  ['a number beyond any', changed(firstNumber, '"n":1e999,')],
  ['a number below any', changed(firstNumber, '"n":-1e999,')],
  ['a whole number too large to count with', changed(firstNumber, '"n":9007199254740993,')],
  ['a number of a million digits', changed(firstNumber, `"n":${'9'.repeat(1_000_000)},`)],
  ['minus nought', changed(firstNumber, '"n":-0,')],
  ['a fraction', changed(firstNumber, '"n":1.5,')],
  ['a leading nought', changed(firstNumber, '"n":01,')],
  ['a number in words of a script', changed(firstNumber, '"n":NaN,')],
  ['a key twice', changed(firstNumber, '"n":1,"n":1,')],
  ['a key twice, once spelt out', changed(firstNumber, '"n":1,"\\u006e":1,')],
  ['the key __proto__', changed(firstNumber, '"n":1,"__proto__":{"type":"struck"},')],
  ['the key __proto__ at the top', utf8(text.replace('{', '{"__proto__":{"entries":[]},'))],
  ['the key constructor', changed(firstNumber, '"n":1,"constructor":{"prototype":{}},')],
  ['the key toString', changed(firstNumber, '"n":1,"toString":1,')],
  ['a list with a hole', changed('"entries": [', '"entries": [null,')],
  ['a comment', utf8(`// ours\n${text}`)],
  ['a comma at the end', utf8(text.trimEnd().replace(/\}$/, ',}'))],
  ['single quotes', utf8(text.replaceAll('"', "'"))],
  ['a page of the web instead', utf8('<!doctype html><title>Sign in</title>')],
  ['a compressed file', Buffer.from([0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 0, 3, 3, 0, 0, 0, 0, 0, 0, 0, 0, 0])],
];

/** Name and bytes of files that look odd and say the same. */
export const sameCorpus: [string, Buffer][] = [
  ['a byte order mark', Buffer.concat([Buffer.from([0xef, 0xbb, 0xbf]), whole])],
  ['other line ends', utf8(text.replaceAll('\n', '\r\n'))],
  ['blank space up to 16 MiB', Buffer.concat([whole, Buffer.alloc(16 * 1024 * 1024 - whole.length, 0x20)])],
  ['letters spelt out', changed('"left"', '"\\u006ceft"')],
  ['a number written another way', changed(firstNumber, '"n":10e-1,')],
];
