/** Sections on tools, holds, telling the patient, clocks, corrections and what goes to sterile services. */
import { item, items, text } from './blocks.ts';
import { inZone } from '../../machines/time.ts';
import { capital, sentence, some } from '../format/prose.ts';
import type { HoldId, ToolId } from '../../content/ids.ts';
import { rowOf, rowsOf } from '../../machines/trace.ts';
import { isLateMove } from './timeline.ts';
import type { History } from './history.ts';
import type { RecordLog } from './log.ts';
import { tell } from './narrative.ts';
import { signedUnder } from './reckoned.ts';
import { freesPlate, partingSteps, wears } from './tool-wear.ts';
import type { Change, RecordFacts, Section } from './model.ts';

/** Each damaged tool in words. */
const damageLines = (log: RecordLog): string[] =>
  log.of('tool-damaged').map((entry) => log.locale.sections.tools.damage(log.content, entry, log.time(entry)));

/** Each tool once, by its label. */
const labelsOf = (log: RecordLog, tools: Iterable<ToolId>): string[] =>
  [...new Set(tools)].map((tool) => capital(log.locale.tool(log.content, tool)));

export function toolsSection(log: RecordLog, { attempts, wanted }: History): Section {
  const { and, screw } = log.locale;
  const { titles, tools } = log.locale.sections;
  const named = attempts.filter(({ tool }) => tool !== undefined);
  const used = [...new Set(named.map(({ tool }) => tool as ToolId))].map((tool) => {
    const on = named.filter((attempt) => attempt.tool === tool).map((attempt) => screw(attempt.screw));
    return `${capital(log.locale.tool(log.content, tool))}: ${and([...new Set(on)])}`;
  });
  const unnamed = attempts.length - named.length;
  if (unnamed) used.push(tools.unnamed(unnamed));
  return {
    id: 'tools',
    title: titles.tools,
    blocks: [
      item('tools-used', tools.used, used),
      item('tools-damaged', tools.damaged, damageLines(log)),
      item('tools-wanted', tools.wanted, labelsOf(log, wanted)),
    ],
  };
}

export function holdsSection(log: RecordLog): Section {
  const { titles, holds: words } = log.locale.sections;
  const { holds } = log.content.phrases;
  const began = log.of('move-started');
  const answered = log.of('hold-answered').map((entry) => {
    const next = began.find(({ n, screw }) => n > entry.n && screw === entry.screw);
    const begun = next ? { id: next.move, screw: next.screw, n: next.n } : null;
    return words.answer(log.content, entry, log.time(entry), begun);
  });
  const reversed = log
    .of('move-started')
    .filter(({ reverseConfirmed }) => reverseConfirmed !== undefined)
    .map((entry) => words.reverse(log.content, entry.screw, entry.reverseConfirmed === true, entry.n, log.time(entry)));
  const called = log.of('colleague-called').map((entry) => words.colleague(log.time(entry), entry.who));
  const late = rowsOf(log.folded.trace).flatMap((row) =>
    row.entry.type === 'move-started' && isLateMove(log, row)
      ? [words.notAsked(log.content, row.entry, log.time(row.entry))]
      : [],
  );
  const open = log.folded.unanswered.map(({ hold, entry }) => {
    const at = log.entries[entry - 1];
    const row = rowOf(log.folded.trace, entry);
    const told = row ? tell(row, log.content, log.zone).replace(/\.$/, '') : null;
    const when = at?.type === 'move-started' ? { id: at.move, screw: at.screw } : told;
    return words.passed(log.content, holds[hold].label, entry, at ? log.time(at) : null, when);
  });
  const closed = log.of('case-closed').at(-1)?.n ?? null;
  const stands = (hold: HoldId, id?: string) =>
    closed === null ? words.stands(holds[hold].label, id) : words.neverOf(holds[hold].label, closed, id);
  // What the closing itself went past stands among what was passed.
  const passed = new Set(log.folded.unanswered.flatMap(({ hold, entry }) => (entry === closed ? [hold] : [])));
  const standing = [
    ...log.view.holds.filter((hold) => !passed.has(hold)).map((hold) => stands(hold)),
    ...Object.entries(log.view.screws).flatMap(([id, screw]) => screw.holds.map((hold) => stands(hold, id))),
  ];
  const none = (lines: string[], line: string): string[] => (lines.length ? lines : log.entries.length ? [line] : []);
  return {
    id: 'holds',
    title: titles.holds,
    blocks: [
      item('holds-answered', words.answered, none([...answered, ...reversed], words.noAnswer)),
      item('colleague', words.called, called),
      item('holds-unanswered', words.unanswered, none(open, words.nonePassed)),
      ...(late.length ? [item('holds-not-asked', words.late, late)] : []),
      item(
        'holds-standing',
        closed === null ? words.standing : words.never,
        none(standing, closed === null ? words.noneStands : words.noneStood),
      ),
    ],
  };
}

export const toldLines = (log: RecordLog): string[] =>
  log.of('patient-told').map((entry) => log.locale.sections.toldLine(entry, log.time(entry)));

export function clocksSection(log: RecordLog): Section {
  const { titles, clocks } = log.locale.sections;
  const compared = log
    .of('clock-compared')
    .filter(({ source }) => source !== 'station')
    .map((entry) =>
      clocks.compared(log.deviceTime(entry) ?? log.time(entry), log.locale.entries.clockDifference(entry, log.zone)),
    );
  const jumps = log.of('clock-jumped').map((entry) => clocks.jump(log.time(entry), entry.seconds));
  const gaps = log
    .of('resumed')
    .filter(({ gap }) => gap === 'not-known')
    .map((entry) => clocks.gap(log.time(entry), log.locale.clean(entry.device), entry.n));
  return {
    id: 'clocks',
    title: titles.clocks,
    blocks: [
      item('theatre-clock', clocks.theatre, compared),
      item('clock-jumps', clocks.jumps, jumps.length || !log.entries.length ? jumps : [clocks.noJump]),
      ...(gaps.length ? [item('clock-gaps', clocks.gaps, gaps)] : []),
    ],
  };
}

export function changesSection(log: RecordLog, changes: readonly Change[]): Section {
  const { titles, changes: words } = log.locale.sections;
  const lines = changes.map(({ n, kind, at, logged, late, by, text: what }) =>
    words.line(n, words.kinds[kind], log.when(logged), late ? log.when(at) : null, by, what),
  );
  const review = log.folded.outOfOrder.map(words.review);
  return {
    id: 'changes',
    title: titles.changes,
    blocks: [lines.length || review.length ? items(...lines, ...review) : text(words.none)],
  };
}

export function sterileSection(log: RecordLog, { attempts, wanted }: History): Section {
  const { titles, sterile } = log.locale.sections;
  const tips = log.view.toolTips.map(({ tool, entry }) => sterile.tip(log.content, tool, entry));
  const part = [...log.folded.screws.values()]
    .filter(({ context }) => context.toPart || context.toolInRecess)
    .map(({ context }) => sterile.toPart(context.id, Boolean(context.toPart)));
  const damaged = log.of('tool-damaged').map(({ tool }) => tool);
  const worn = attempts.flatMap(({ move, tool }) =>
    move === freesPlate ? [tool ?? 'metal-cutting-saw'] : (wears[move] ?? []),
  );
  return {
    id: 'sterile',
    title: titles.sterile,
    blocks: [
      item('sterile-damaged', sterile.damaged, damageLines(log)),
      item('sterile-tips', sterile.tips, tips),
      item('sterile-part', sterile.part, part),
      ...(part.length ? [items(...partingSteps(log.content))] : []),
      item('restock', sterile.restock, labelsOf(log, [...damaged, ...log.view.toolTips.map(({ tool }) => tool)])),
      item('worn', sterile.worn, labelsOf(log, worn)),
      item('missing', sterile.missing, labelsOf(log, wanted)),
    ],
  };
}

/**
 * @param proof what the hash that the last signature keeps says of the words that were signed; null where none is told
 * @param withStandings whether those who signed were listed is told
 */
export function signatureSection(
  log: RecordLog,
  facts: RecordFacts,
  proof: string | null,
  withStandings: boolean,
): Section {
  const { signatures, signAgain } = facts;
  const { titles, signature, reckoned } = log.locale.sections;
  const under = signedUnder(log.folded);
  const lines = signatures.map(({ n, at, who, role, meaning, standing }) => {
    const { date, time } = inZone(at, log.zone);
    const line = signature.line(who, role, `${log.locale.day(date)} ${time}`, meaning, n);
    return withStandings ? `${line}; ${standing}` : line;
  });
  return {
    id: 'signature',
    title: titles.signature,
    blocks: [
      item('signature', signature.signed, lines),
      ...some(
        under && under.rules < log.folded.rules.number && reckoned.signedUnder(under.rules),
        proof,
        signAgain,
        lines.length === 0 && signature.unsigned,
      ).map(text),
    ],
  };
}

export const cautionsSection = (log: RecordLog): Section => ({
  id: 'cautions',
  title: log.locale.sections.titles.cautions,
  blocks: [items(...log.content.phrases.cautions.map(sentence), sentence(log.content.orderStatus))],
});
