/** From a case to its record. Pure: no clock, no locale, no zone of the machine. */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import canonicalize from 'canonicalize';
import { departmentSource } from '../../content/overlay.ts';
import type { Content } from '../../content/types.ts';
import type { Entry } from '../../machines/entry.ts';
import type { Folded } from '../../machines/folded.ts';
import { rowOf, type TraceRow } from '../../machines/trace.ts';
import type { CaseView } from '../../machines/view.types.ts';
import { historyOf, type History } from './history.ts';
import { beforeItems, operationItems, teamItems, timeItems } from './items.ts';
import { readLog, type RecordLog } from './log.ts';
import {
  recorded,
  type Block,
  type CaseRecord,
  type Change,
  type RecordFacts,
  type ScrewFate,
  type Section,
  type Signature,
  type SignatureState,
} from './model.ts';
import { boneName } from '../../content/names.ts';
import { tell } from './narrative.ts';
import { firstPage } from './brief/page.ts';
import { saidOf } from './brief/said.ts';
import {
  changesSection,
  clocksSection,
  cautionsSection,
  holdsSection,
  signatureSection,
  sterileSection,
  toldLines,
  toolsSection,
} from './sections-case.ts';
import { foundAfterOf } from './found-after.ts';
import { aftercareOf, aftercareSection } from './aftercare.ts';
import { boneOf, boneSection } from './bone-section.ts';
import { metalSection, screwsSection, staysInSection } from './sections-metal.ts';
import { paperFacts } from './papers/facts.ts';
import { partsOf } from './part-facts.ts';
import { afterSigning, isChanging } from './after-signing.ts';
import { provenLine, signedSections, type Extent } from './signed-words.ts';
import { operationOf } from './operation-facts.ts';
import { standingOf } from './signer.ts';
import { stillInOf } from './still-in-facts.ts';
import { firstSignature, timelineOf } from './timeline.ts';
import { some } from '../format/prose.ts';

const signaturesOf = (log: RecordLog): Signature[] =>
  log.of('signed').map((entry) => {
    const standing = standingOf(log, entry);
    return {
      n: entry.n,
      at: log.at(entry),
      who: log.locale.clean(entry.who),
      role: entry.role,
      meaning: log.locale.clean(entry.meaning),
      standing: log.locale.sections.signature.standing(entry.role, standing),
      isListed: standing.before.some(({ role }) => role === entry.role),
      textHash: entry.textHash ?? null,
    };
  });

function statusOf({ folded, entries }: RecordLog): SignatureState {
  const after = afterSigning(folded, entries);
  return after.signed === null ? 'draft' : after.entries.length ? 'amended' : 'signed';
}

/** The sentence that asks for a new signature. */
function signAgainOf({ folded, entries, locale }: RecordLog): string | null {
  const after = afterSigning(folded, entries);
  return after.signed !== null && after.entries.length
    ? locale.sections.signature.again(after.signed, after.entries)
    : null;
}

/** What says by itself that an earlier entry was wrong. */
const corrects = (entry: Entry): boolean => entry.type === 'case-corrected' || entry.type === 'reassigned';

/** Strikes, corrections, remarks, and whatever was entered after the first signature. */
function changesOf(log: RecordLog): Change[] {
  const { and, clean, roles, sections } = log.locale;
  const signed = firstSignature(log);
  return log.effective.flatMap((entry): Change[] => {
    const after = signed !== null && entry.n > signed && isChanging(entry);
    if (entry.type !== 'struck' && entry.type !== 'remark' && !corrects(entry) && !after) return [];
    const kind =
      entry.type === 'struck'
        ? 'strike'
        : entry.type === 'remark'
          ? (entry.kind ?? 'remark')
          : corrects(entry)
            ? 'correction'
            : 'entry after signing';
    const by = and(some(entry.calledBy && roles[entry.calledBy], entry.loggedBy && roles[entry.loggedBy])) || null;
    const row = rowOf(log.folded.trace, entry.n) as TraceRow;
    const text = entry.type === 'remark' ? clean(entry.text) : tell(row, log.content);
    return [
      {
        n: entry.n,
        kind,
        at: log.at(entry),
        logged: log.at(entry, 'logged'),
        late: row.late,
        by,
        text: row.late ? sections.changes.late(text) : text,
        of: entry.type === 'struck' ? entry.entry : null,
      },
    ];
  });
}

const fatesOf = (log: RecordLog, { attempts, leftFrom }: History): ScrewFate[] =>
  [...log.folded.screws.values()].map(({ context }) => ({
    id: context.id,
    description: log.locale.entries.screwFacts(context.facts),
    recess: log.locale.entries.recess(context.facts),
    material: context.facts.material,
    diameter: context.facts.diameter,
    length: context.facts.length,
    stage: context.stage,
    leftFrom: leftFrom.get(context.id) ?? null,
    foundAfter: foundAfterOf(log, context),
    slips: context.slips,
    attempts: attempts.filter(({ screw }) => screw === context.id),
  }));

function factsOf(log: RecordLog, history: History): RecordFacts {
  const { entries, opened, view, content } = log;
  const { clean, notRecorded, sides, constructs } = log.locale;
  const last = entries.at(-1);
  const at = (type: 'case-opened' | 'work-started' | 'work-ended' | 'case-closed') => log.of(type).at(-1);
  const start = at('work-started') ?? at('case-opened');
  const end = at('work-ended') ?? at('case-closed');
  const screws = fatesOf(log, history);
  const parts = partsOf(log);
  const stillIn = stillInOf(log, history);
  const facts: Omit<RecordFacts, 'done'> = {
    status: statusOf(log),
    label: opened ? clean(opened.label) : notRecorded,
    openedAs: [...openedAs(log, 'side'), ...openedAs(log, 'bone')],
    side: opened ? sides[opened.side] : notRecorded,
    bone: opened ? boneName(content, clean(opened.bone)) : notRecorded,
    construct: opened ? constructs[opened.construct] : notRecorded,
    planned: opened?.planned ? clean(opened.planned) : notRecorded,
    parts,
    zone: log.zone,
    date: log.date,
    contentVersion: content.version,
    entries: entries.length,
    seals: view.seals,
    brokenAt: view.brokenAt,
    headSeal: last?.seal ?? null,
    digest: bytesToHex(sha256(utf8ToBytes(canonicalize(entries) as string))),
    started: start === undefined ? null : log.at(start),
    ended: end === undefined ? null : log.at(end),
    lastLogged: last ? log.at(last, 'logged') : null,
    isClosed: view.phase === 'closed',
    people: log.of('person-listed').map(({ n, role, who }) => ({ n, role, who: clean(who) })),
    operation: operationOf(log, history),
    screws,
    stillIn,
    boneTold: boneOf(log, screws),
    aftercare: aftercareOf(log),
    signatures: signaturesOf(log),
    signAgain: signAgainOf(log),
    changes: changesOf(log),
    told: toldLines(log),
    papers: paperFacts(log, history, { screws, parts, stillIn }),
  };
  return { ...facts, done: saidOf(log, facts) };
}

function sealWords({ locale }: RecordLog, { seals, brokenAt, entries }: RecordFacts): string {
  const { head } = locale.sections;
  if (seals === 'broken') return head.broken(brokenAt);
  return seals === 'whole' ? head.whole : entries ? head.unsealed : head.sealless;
}

/** Whose content lies over the released one, and where its policy stands. */
const departmentLines = ({ sources, department }: Content): string[] =>
  department ? sources.filter(({ id }) => id === departmentSource).map(({ what, cite }) => `${what}; ${cite}`) : [];

/** What stood at the opening where it was corrected since: both stay legible. */
function openedAs(log: RecordLog, field: 'side' | 'bone' | 'construct' | 'label'): string[] {
  const first = log.of('case-opened')[0];
  if (!first || first[field] === log.opened?.[field]) return [];
  const { clean, sides, constructs, sections } = log.locale;
  const was = {
    side: sides[first.side],
    bone: boneName(log.content, clean(first.bone)),
    construct: constructs[first.construct],
    label: clean(first.label),
  }[field];
  const by = log.of('case-corrected').flatMap((entry) => (entry[field] === undefined ? [] : [entry.n]));
  return [sections.head.openedAs(was, by)];
}

function headBlocks(log: RecordLog, facts: RecordFacts): Block[] {
  const { content, opened } = log;
  const { day } = log.locale;
  const { head } = log.locale.sections;
  const item = (id: string, label: string, ...lines: string[]): Block => ({
    kind: 'item',
    id,
    label,
    value: recorded(...lines),
  });
  const expired = log.date !== null && log.date > content.expires;
  return [
    item('status', head.status, ...some(head.statuses[facts.status], facts.signAgain)),
    item('patient', head.patient),
    item('case', head.case, ...(opened ? [facts.label, ...openedAs(log, 'label')] : [])),
    item('side', head.side, ...(opened ? [facts.side, ...openedAs(log, 'side')] : [])),
    item('bone', head.bone, ...(opened ? [facts.bone, ...openedAs(log, 'bone')] : [])),
    item('construct', head.construct, ...(opened ? [facts.construct, ...openedAs(log, 'construct')] : [])),
    item('planned', head.planned, ...(opened?.planned ? [facts.planned] : [])),
    item('entries', head.entries, String(log.entries.length)),
    item(
      'content',
      head.content,
      head.version(content.version, day(content.reviewed), day(content.expires), expired),
      ...departmentLines(content),
    ),
    item('seal', head.seal, head.sealTail(sealWords(log, facts))),
    item('head-seal', head.lastSeal, ...(facts.headSeal === null ? [] : [facts.headSeal])),
  ];
}

/**
 * The whole record of a case.
 *
 * @param entries the log, checked, 1, 2, 3 …
 * @param folded what `fold(entries, content)` gave
 * @param view what `view(folded, now?, seals)` gave; its seal state is the one printed
 * @param content the version that the case names
 * @param extent left out: with the words of a signature under older rules, what its hash proves, and whether those who
 *   signed were listed
 * @returns sections in a fixed order and the facts behind them; the same for the same log, everywhere; never throws
 * @example buildRecord([], fold([], content), view(fold([], content)), content).facts.status // 'draft'
 */
export function buildRecord(
  entries: readonly Entry[],
  folded: Folded,
  view: CaseView,
  content: Content,
  extent: Extent = 'whole',
): CaseRecord {
  const log = readLog(entries, folded, view, content);
  const history = historyOf(log);
  const facts = factsOf(log, history);
  const { sections: words, language } = log.locale;
  const { titles } = words;
  const told: Block = { kind: 'item', id: 'told', label: words.told, value: recorded(...facts.told) };
  const sections: Section[] = [
    ...(extent === 'without-signed-words' ? [] : signedSections(log, buildRecord)),
    { id: 'head', title: titles.head, blocks: headBlocks(log, facts) },
    staysInSection(log, facts),
    { id: 'times', title: titles.times, blocks: timeItems(log) },
    { id: 'team', title: titles.team, blocks: teamItems(log) },
    { id: 'operation', title: titles.operation, blocks: operationItems(log, history, facts) },
    { id: 'before', title: titles.before, blocks: beforeItems(log) },
    screwsSection(log, facts.screws),
    toolsSection(log, history),
    boneSection(log, facts.boneTold),
    holdsSection(log),
    metalSection(log),
    { id: 'told', title: titles.told, blocks: [told] },
    ...aftercareSection(log, facts.aftercare),
    clocksSection(log),
    { id: 'timeline', title: titles.timeline, blocks: timelineBlocks(log) },
    changesSection(log, facts.changes),
    sterileSection(log, history),
    signatureSection(
      log,
      facts,
      extent === 'without-signed-words' ? null : provenLine(log, buildRecord),
      extent !== 'without-standings',
    ),
    cautionsSection(log),
  ];
  return {
    title: words.title(facts.status === 'draft'),
    language,
    facts,
    first: firstPage(log, facts, sections),
    sections,
  };
}

const timelineBlocks = (log: RecordLog): Block[] =>
  log.entries.length
    ? [{ kind: 'timeline', rows: timelineOf(log) }]
    : [{ kind: 'text', text: log.locale.sections.noEntry }];
