/** Sections on tools, holds, telling the patient, clocks, corrections and what goes to sterile services. */
import { epoch, inZone } from '../../machines/time.ts';
import { answerWord, clean, count, list, pointWord, roleWord, sentence, some, span, toolLabel } from './words.ts';
import type { ToolId } from '../../content/ids.ts';
import type { History } from './history.ts';
import type { Log } from './log.ts';
import { recorded, type Block, type Change, type Section, type Signature } from './model.ts';
import { clockDifference } from './narrative.ts';
import { doing, screwName } from './narrative-moves.ts';

const text = (line: string): Block => ({ kind: 'text', text: line });
const items = (...lines: string[]): Block => ({ kind: 'list', items: lines });
const item = (id: string, label: string, lines: readonly string[]): Block => ({
  kind: 'item',
  id,
  label,
  value: recorded(...lines),
});
const capital = (line: string) => line.charAt(0).toUpperCase() + line.slice(1);

const kept = (value: boolean | undefined) => (value === undefined ? 'kept: not recorded' : value ? 'kept' : 'not kept');

/** Each damaged tool in words. */
const damageLines = (log: Log): string[] =>
  log
    .of('tool-damaged')
    .map(
      (entry) =>
        `${capital(toolLabel(log.content, entry.tool))} at ${log.when(epoch(entry.at))}: ${clean(entry.how)}; tip ${entry.tipMissing ? 'missing' : 'not missing'}; ${kept(entry.kept)}`,
    );

export function toolsSection(log: Log, { attempts, wanted }: History): Section {
  const named = attempts.filter(({ tool }) => tool !== undefined);
  const used = [...new Set(named.map(({ tool }) => tool as ToolId))].map((tool) => {
    const moves = [...new Set(named.filter((attempt) => attempt.tool === tool).map(({ screw }) => screwName(screw)))];
    return `${capital(toolLabel(log.content, tool))}: ${list(moves)}`;
  });
  const unnamed = attempts.length - named.length;
  if (unnamed) used.push(`${count(unnamed, 'move')} with no tool named`);
  return {
    id: 'tools',
    title: 'Tools',
    blocks: [
      item('tools-used', 'Tools used', used),
      item('tools-damaged', 'Tools damaged', damageLines(log)),
      item(
        'tools-wanted',
        'Not in the room when a move was looked for',
        [...wanted].map((tool) => capital(toolLabel(log.content, tool))),
      ),
    ],
  };
}

export function holdsSection(log: Log): Section {
  const { holds } = log.content.phrases;
  const answered = log
    .of('hold-answered')
    .map((entry) =>
      some(
        `${log.when(epoch(entry.at))} "${holds[entry.hold].label}"${entry.screw === undefined ? '' : ` on ${screwName(entry.screw)}`}: ${answerWord[entry.answer]}`,
        entry.onWordOf === undefined ? 'on whose word: not recorded' : `on the word of ${clean(entry.onWordOf)}`,
        `reason: ${entry.reason === undefined ? 'not recorded' : clean(entry.reason)}`,
        `entry ${entry.n}`,
      ).join('; '),
    );
  const reversed = log
    .of('move-started')
    .filter(({ reverseConfirmed }) => reverseConfirmed !== undefined)
    .map(
      (entry) =>
        `${log.when(epoch(entry.at))} "${holds.reverse.label}" on ${screwName(entry.screw)}: ${entry.reverseConfirmed ? 'confirmed' : 'not confirmed'} as the move began; entry ${entry.n}`,
    );
  const called = log
    .of('colleague-called')
    .map(({ at, who }) => `${log.when(epoch(at))} ${who === undefined ? 'name not recorded' : clean(who)}`);
  const open = log.folded.unanswered.map(({ hold, entry }) => {
    const at = log.entries[entry - 1];
    const what = at?.type === 'move-started' ? `, when ${doing[at.move]} began on ${screwName(at.screw)}` : '';
    return `"${holds[hold].label}" at entry ${entry}${at ? ` (${log.when(epoch(at.at))})` : ''}${what}`;
  });
  const standing = [
    ...log.view.holds.map((hold) => `"${holds[hold].label}"`),
    ...Object.entries(log.view.screws).flatMap(([id, screw]) =>
      screw.holds.map((hold) => `"${holds[hold].label}" on ${screwName(id)}`),
    ),
  ];
  const none = (lines: string[], line: string): string[] => (lines.length ? lines : log.entries.length ? [line] : []);
  return {
    id: 'holds',
    title: 'Limits and holds',
    blocks: [
      item('holds-answered', 'Holds answered', none([...answered, ...reversed], 'no answer is in the log')),
      item('colleague', 'Colleague called', called),
      item('holds-unanswered', 'Passed without an answer', none(open, 'no entry in the log passed an open hold')),
      item('holds-standing', 'Standing at the last entry', none(standing, 'no hold stands')),
    ],
  };
}

export const toldLines = (log: Log): string[] =>
  log.of('patient-told').map((entry) => {
    const points = entry.points.length
      ? list([...new Set(entry.points)].map((point) => pointWord[point]))
      : 'no point named';
    return `${entry.state === 'told' ? 'told' : 'still to be told'}, by ${clean(entry.by)}, at ${log.when(epoch(entry.at))}: ${points}`;
  });

export function clocksSection(log: Log): Section {
  const compared = log.of('clock-compared').map((entry) => `at ${log.when(epoch(entry.at))} ${clockDifference(entry)}`);
  const jumps = log
    .of('clock-jumped')
    .map(
      ({ at, seconds }) =>
        `at ${log.when(epoch(at))} ${seconds < 0 ? 'back' : 'forward'} by ${span(seconds)}; durations are corrected for it`,
    );
  return {
    id: 'clocks',
    title: 'Clocks',
    blocks: [
      item('theatre-clock', 'Theatre clock', compared),
      item(
        'clock-jumps',
        'Jumps of the clock of the device',
        jumps.length || !log.entries.length ? jumps : ['no jump is in the log'],
      ),
    ],
  };
}

export function changesSection(log: Log, changes: readonly Change[]): Section {
  const lines = changes.map(({ n, kind, at, logged, by, text: what }) => {
    const late = logged - at > 60_000 ? `, about ${log.when(at)}` : '';
    const entered = by === 'not recorded' ? 'by whom not recorded' : `by ${by}`;
    return `Entry ${n}, ${kind}, entered ${log.when(logged)}${late}, ${entered}: ${what}`;
  });
  const review = log.folded.outOfOrder.map((n) => `Entry ${n}: out of order, kept without effect, for review`);
  return {
    id: 'changes',
    title: 'Corrections and additions',
    blocks: [
      lines.length || review.length ? items(...lines, ...review) : text('No correction or addition is in the log.'),
    ],
  };
}

/** Parting a jammed tap or extractor: the steps stand in the content. */
const partingSteps = (log: Log): string[] =>
  ['parting.1', 'parting.2', 'parting.3', 'parting.source'].flatMap((key) => log.content.phrases.words[key] ?? []);

/** Moves that use up or wear a tool: worth a look before it goes back. Common practice, no source. */
const wears: Partial<Record<string, ToolId[]>> = {
  'pack-recess': ['metal-foil'],
  'conical-extractor': ['conical-extractor'],
  'reverse-tap': ['hard-metal-drill', 'reverse-tap'],
  'drill-head-off': ['hard-metal-drill'],
  'free-plate': ['metal-cutting-saw'],
  'slot-head': ['metal-cutting-burr'],
  'burr-out': ['metal-cutting-burr'],
  'hollow-ream': ['hollow-reamer'],
  'extraction-sleeve': ['extraction-sleeve'],
};

export function sterileSection(log: Log, { attempts, wanted }: History): Section {
  const tips = log.view.toolTips.map(({ tool, entry }) => `${capital(toolLabel(log.content, tool))}, entry ${entry}`);
  const part = [...log.folded.screws.values()]
    .filter(({ context }) => context.toPart || context.toolInRecess)
    .map(
      ({ context }) =>
        `${capital(screwName(context.id))}: ${context.toPart ? 'came out with the tool jammed in it' : 'a tool is jammed in it'}`,
    );
  const damaged = log.of('tool-damaged').map(({ tool }) => tool);
  const worn = attempts.flatMap(({ move, tool }) => (move === 'free-plate' && tool ? [tool] : (wears[move] ?? [])));
  const labels = (tools: readonly ToolId[]) => [...new Set(tools)].map((tool) => capital(toolLabel(log.content, tool)));
  return {
    id: 'sterile',
    title: 'For sterile services and restock',
    blocks: [
      item('sterile-damaged', 'Damaged', damageLines(log)),
      item('sterile-tips', 'Tips broken off', tips),
      item('sterile-part', 'Tap or extractor and screw to be parted', part),
      ...(part.length ? [items(...partingSteps(log))] : []),
      item('restock', 'Replace', labels([...damaged, ...log.view.toolTips.map(({ tool }) => tool)])),
      item('worn', 'Used on metal or used up, look before it goes back (common practice, no source)', labels(worn)),
      item('missing', 'Was not in the room when looked for', labels([...wanted])),
    ],
  };
}

export function signatureSection(log: Log, signatures: readonly Signature[]): Section {
  const lines = signatures.map(
    ({ n, at, who, role, meaning }) =>
      `${who}, ${roleWord[role]}, ${Object.values(inZone(at, log.zone)).join(' ')}: ${meaning} (entry ${n})`,
  );
  return {
    id: 'signature',
    title: 'Signature',
    blocks: [
      item('signature', 'Signed', lines),
      ...(lines.length
        ? []
        : [text('DRAFT: not signed. Signature, name, date and time: ______________________________')]),
    ],
  };
}

export const cautionsSection = (log: Log): Section => ({
  id: 'cautions',
  title: 'Cautions',
  blocks: [items(...log.content.phrases.cautions.map(sentence), sentence(log.content.orderStatus))],
});
