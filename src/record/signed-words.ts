/** A record that was signed under older rules: its words as they were signed, and what the newest rules reckon otherwise. */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { loadContent } from '../../content/catalog.ts';
import type { Content } from '../../content/types.ts';
import type { Entry, EntryOf } from '../../machines/entry.ts';
import { fold, ruleVersions } from '../../machines/fold.ts';
import type { Folded } from '../../machines/folded.ts';
import { verify } from '../../machines/seal.ts';
import { view } from '../../machines/view.ts';
import type { CaseView } from '../../machines/view.types.ts';
import type { RecordLog } from './log.ts';
import type { Block, CaseRecord, Page, Section } from './model.ts';
import { differs, foldedBefore, signedUnder } from './reckoned.ts';
import { pageText } from './text.ts';

/**
 * How much of a record is made: without what stands in it of earlier signatures, without whether those who signed were
 * listed (as it was told until then), or all of it.
 */
export type Extent = 'without-signed-words' | 'without-standings' | 'whole';
/** Makes a record; see `buildRecord`. */
export type Build = (
  entries: readonly Entry[],
  folded: Folded,
  seen: CaseView,
  content: Content,
  extent?: Extent,
) => CaseRecord;

/** SHA-256 of a page as text: 64 lower-case hexadecimal digits. */
export const hashOfWords = (page: Page): string => bytesToHex(sha256(utf8ToBytes(pageText(page))));

/** The content of a case in English; undefined where this device has it in another language alone. */
const inEnglish = ({ content }: Folded): Content | undefined =>
  content.phrases.language === 'en' ? content : loadContent(content.version, 'en');

/** Can the words that were signed be told again? Null where no hash of them was kept, or none can be made here. */
function isProven({ folded, entries }: RecordLog, signed: EntryOf<'signed'>, build: Build): boolean | null {
  const english = inEnglish(folded);
  const rules = ruleVersions.of(signed.rules ?? 1);
  if (signed.textHash === undefined || english?.phrases.language !== 'en' || !rules) return null;
  const before = entries.slice(0, signed.n - 1);
  const then = fold(before, english, rules, folded.began);
  const seen = view(then, undefined, verify(before));
  // An earlier signature stands among the words that were signed; what is told of it was less once.
  return (['whole', 'without-standings'] as const).some(
    (extent) => hashOfWords(build(before, then, seen, english, extent)) === signed.textHash,
  );
}

/** What the hash that a signature keeps says of the words that were signed. */
export function provenLine(log: RecordLog, build: Build): string | null {
  const signed = log.effective.findLast((entry) => entry.type === 'signed');
  if (signed?.type !== 'signed') return null;
  const { hash } = log.locale.sections.reckoned;
  if (signed.textHash === undefined) return signed.rules === undefined ? null : hash.none;
  const proven = isProven(log, signed, build);
  return proven === null
    ? hash.unknown(signed.textHash)
    : proven
      ? hash.same(signed.textHash)
      : hash.other(signed.textHash);
}

/** Blocks of a page that is told again: its timeline as a list, so that no row stands twice as one. */
const again = (log: RecordLog, block: Block): Block =>
  block.kind !== 'timeline'
    ? block
    : {
        kind: 'list',
        items: block.rows.map(({ date, time, n, marks, sentence }) =>
          [`${log.locale.day(date)} ${time} (${n})`, ...marks.map((mark) => `[${mark}]`), sentence].join(' '),
        ),
      };

/**
 * What stands first in a record that was signed under older rules: the words that were signed, where the newest rules
 * would write others, then each difference as a line. Nothing is replaced.
 *
 * @param build makes a record of the entries before the signature
 * @returns no section for a record that is unsigned, or signed under the rules that it is folded by
 */
export function signedSections(log: RecordLog, build: Build): Section[] {
  const { folded, entries, content } = log;
  const signed = signedUnder(folded);
  if (!signed || signed.rules >= folded.rules.number) return [];
  const { reckoned } = log.locale.sections;
  const before = entries.slice(0, signed.n - 1);
  const rules = ruleVersions.of(signed.rules);
  const then = rules && foldedBefore(folded, entries, signed.n, rules);
  const seals = verify(before);
  const by = (state: Folded) => build(before, state, view(state, undefined, seals), content, 'without-signed-words');
  const was = then ? by(then.was) : null;
  const isOther = was !== null && then !== undefined && pageText(was) !== pageText(by(then.now));
  const words: Block[] = (was?.sections ?? []).flatMap(({ title, blocks }): Block[] => [
    { kind: 'heading', text: title.toUpperCase() },
    ...blocks.map((block) => again(log, block)),
  ]);
  const proof = provenLine(log, build);
  const lines = differs(folded, entries, content);
  const anew = [
    reckoned.signedUnder(signed.rules),
    ...(lines.length ? lines : [reckoned.same]).map((line) => reckoned.anew(folded.rules.number, line)),
  ];
  return [
    ...(isOther
      ? [
          {
            id: 'as-signed',
            title: reckoned.asSigned,
            blocks: [
              { kind: 'text' as const, text: reckoned.toldAgain(signed.rules, signed.n) },
              { kind: 'text' as const, text: proof ?? reckoned.hash.none },
              ...words,
            ],
          },
        ]
      : []),
    { id: 'reckoned', title: reckoned.title, blocks: anew.map((text) => ({ kind: 'text', text })) },
  ];
}
