/** Which entries are heard before a case is opened, while it is open and once it is closed; every type is asked. */
import { describe, expect, it } from 'vitest';
import { fields1 } from '../../machines/fields-1.ts';
import { entryTypes, type EntryDraft, type EntryType } from '../../machines/entry.ts';
import { epoch } from '../../machines/time.ts';
import { Log, atTheTable, content, inTheRoom } from './build.ts';

const plain = { zone: 'UTC', side: 'left', bone: 'tibia', construct: 'plate', planned: '', label: 'x' } as const;
const facts = { diameter: 4.5, thread: 'cortical', locking: false, drive: 'hexagonal', material: 'steel' } as const;

/** One entry of every type, about the listed screw "1" where it is about one. */
const drafts: { [T in EntryType]: EntryDraft & { type: T } } = {
  'case-opened': { type: 'case-opened', ...plain },
  'person-listed': { type: 'person-listed', role: 'scrub', who: 'the scrub nurse' },
  'bone-measured': { type: 'bone-measured', outer: 20, cortex: 4, source: 'measured' },
  'screw-listed': { type: 'screw-listed', screw: '1', ...facts, length: 30, cortices: 2 },
  'tool-in-room': { type: 'tool-in-room', tool: 'pick', present: true },
  'consent-point': { type: 'consent-point', point: 'may-stay', confirmed: true },
  'limits-set': { type: 'limits-set', boneStop: 0.4 },
  'work-started': { type: 'work-started' },
  'screw-called': { type: 'screw-called', screw: '1' },
  'move-started': { type: 'move-started', screw: '1', move: 'turn-out' },
  'move-ended': { type: 'move-ended', screw: '1', outcome: 'moving' },
  reassessed: { type: 'reassessed', screw: '1', checks: {} },
  'hold-answered': { type: 'hold-answered', hold: 'time', answer: 'go-on' },
  found: { type: 'found', screw: '1', tipProud: true },
  'plate-off': { type: 'plate-off' },
  'colleague-called': { type: 'colleague-called' },
  'left-in': { type: 'left-in', screw: '1', length: null, where: 'canal', reason: 'deep' },
  'piece-recovered': { type: 'piece-recovered', screw: '1', length: 4 },
  'tool-damaged': { type: 'tool-damaged', tool: 'pick', how: 'bent', tipMissing: false },
  tourniquet: { type: 'tourniquet', to: 'up' },
  images: { type: 'images', shots: 1 },
  antibiotic: { type: 'antibiotic', drug: 'cefazolin' },
  'blood-loss': { type: 'blood-loss', ml: 10 },
  'washed-out': { type: 'washed-out' },
  'clock-compared': { type: 'clock-compared', theatreClock: '2026-03-04T09:00:00Z' },
  'clock-jumped': { type: 'clock-jumped', seconds: 60 },
  'note-field': { type: 'note-field', field: 'closure', text: 'in layers' },
  'patient-told': { type: 'patient-told', state: 'told', by: 'surgeon', points: ['place'] },
  signed: { type: 'signed', who: 'the surgeon', role: 'surgeon', meaning: 'read' },
  remark: { type: 'remark', text: 'all well' },
  struck: { type: 'struck', entry: 1, reason: 'typing error' },
  'count-answered': { type: 'count-answered', by: ['scrub', 'surgeon'] },
  'work-ended': { type: 'work-ended' },
  'case-closed': { type: 'case-closed' },
  'format-raised': { type: 'format-raised', to: 2, rules: 2 },
  'case-corrected': { type: 'case-corrected', bone: 'femur', reason: 'mistyped' },
  resumed: { type: 'resumed', device: 'tablet', gap: 'known' },
  'at-tablet': { type: 'at-tablet', role: 'circulating' },
  'part-listed': { type: 'part-listed', part: 'washer', kind: 'washer' },
  'part-ended': { type: 'part-ended', part: 'plate', end: 'out' },
  'put-in': { type: 'put-in', part: 'new plate', kind: 'plate', where: 'tibia' },
  'part-move': { type: 'part-move', part: 'plate', move: 'lift' },
  destroyed: { type: 'destroyed', screw: '1', what: 'head', how: 'burr' },
  'head-seen': { type: 'head-seen', screw: '1', head: 'in-plate' },
  reassigned: { type: 'reassigned', entries: [1], screw: '1' },
  stopped: { type: 'stopped' },
  deferred: { type: 'deferred', screw: '1' },
  event: { type: 'event', kind: 'pause' },
  'move-answered': { type: 'move-answered', of: 1, depth: 12 },
  'length-answered': { type: 'length-answered', screw: '1', answer: 'listed-wrong' },
  checked: { type: 'checked', what: 'first-turn' },
  aftercare: { type: 'aftercare', text: 'no load for six weeks', state: 'accepted' },
  'hole-seen': { type: 'hole-seen', where: 'end-of-metal', diameter: 4.5 },
};

/** The types that are heard as the next entry of such a log. */
const heard = (before: () => Log) =>
  entryTypes.filter((type) => {
    const log = before().write(drafts[type]);
    return !log.view.outOfOrder.includes(log.n);
  });
const allBut = (...types: EntryType[]) => entryTypes.filter((type) => !types.includes(type));

describe('heard is', () => {
  it('nothing but the opening before it', () => expect(heard(() => new Log())).toEqual(['case-opened']));

  it('all but moves, a second opening and a word on what nobody asked or began, in the briefing', () =>
    expect(heard(inTheRoom)).toEqual(
      allBut('case-opened', 'move-started', 'move-ended', 'work-ended', 'stopped', 'length-answered'),
    ));

  it('all but a second start at the table, and an end once a move runs', () => {
    expect(heard(atTheTable)).toEqual(allBut('case-opened', 'work-started', 'move-ended', 'length-answered'));
    expect(heard(() => atTheTable().begins('1', 'grip-head'))).toEqual(
      allBut('case-opened', 'work-started', 'length-answered'),
    );
  });

  it('a move once the work has ended, which takes it up again', () =>
    expect(heard(() => atTheTable().write({ type: 'work-ended' }))).toEqual(
      allBut('case-opened', 'work-started', 'move-ended', 'length-answered'),
    ));

  it('why a screw is short once it came out short, in format 2', () => {
    const short = atTheTable({}, { rules: 2 }).tries('1', 'turn-out', 'out', { recovered: 20, lengthHow: 'measured' });
    expect(heard(() => short.fork())).toContain('length-answered');
  });

  it('what is only written down once a case of format 1 is closed', () => {
    const after = heard(() => atTheTable().write({ type: 'case-closed' }));
    expect(after.filter((type) => type in fields1(content.ids))).toEqual([
      ...['note-field', 'patient-told', 'signed', 'remark'],
    ]);
  });

  it('what is found of the metal besides once a case of format 2 is closed', () => {
    const closed = () => atTheTable({}, { rules: 2 }).write({ type: 'case-closed' });
    const found = ['piece-recovered', 'destroyed', 'part-ended', 'left-in', 'tool-damaged', 'screw-listed'] as const;
    const more = ['part-listed', 'put-in', 'count-answered', 'reassigned', 'event', 'case-corrected'] as const;
    const papers = ['note-field', 'patient-told', 'signed', 'remark', 'aftercare'] as const;
    // A case of format 1 is raised before the first of these.
    const seen = ['head-seen', 'hole-seen', 'move-answered', 'format-raised', 'resumed'] as const;
    const clock = ['clock-compared', 'clock-jumped'] as const;
    const all: readonly EntryType[] = [...found, ...more, ...papers, ...seen, ...clock, 'struck'];
    // The opening cannot be struck in format 2.
    const strike = closed().strikes(closed().n - 1);
    expect(strike.view.outOfOrder).toEqual([]);
    expect(heard(closed)).toEqual(entryTypes.filter((type) => all.includes(type) && type !== 'struck'));
  });

  it('all of the time before it once a case of format 2 is closed, but a second opening or closing and no end of a move that nobody began', () => {
    const closed = () => atTheTable({}, { rules: 2 }).after(60).write({ type: 'case-closed' });
    const before = new Date(epoch(closed().entries.at(-1)?.at as string) - 600_000).toISOString();
    const told = entryTypes.filter((type) => {
      const log = closed();
      const logged = new Date(epoch(log.entries.at(-1)?.at as string) + 600_000).toISOString();
      log.write({ ...drafts[type], at: before, logged });
      return !log.view.outOfOrder.includes(log.n);
    });
    expect(told).toEqual(allBut('case-opened', 'case-closed', 'move-ended', 'length-answered', 'struck'));
  });

  it('of a screw that is out: what was found, measured, recovered or is gone of it, and no move', () => {
    const ofScrew = entryTypes.filter((type) => 'screw' in drafts[type]);
    expect(heard(() => atTheTable().tries('1', 'turn-out', 'out')).filter((type) => ofScrew.includes(type))).toEqual([
      ...['screw-listed', 'reassessed', 'found', 'piece-recovered', 'destroyed', 'head-seen', 'reassigned'],
    ]);
  });

  it('of a tool and of the whole bone what is also heard of a screw', () => {
    const { screw: _, ...recovered } = drafts['piece-recovered'] as { screw?: string; type: 'piece-recovered' };
    const { screw: _s, ...left } = drafts['left-in'] as { screw?: string; type: 'left-in' };
    const log = atTheTable()
      .write({ ...recovered, tool: 'pick' })
      .write({ ...left, tool: 'pick' } as EntryDraft)
      .write({ type: 'bone-measured', screw: '1', outer: 20, cortex: 4, source: 'measured' })
      .write({ type: 'hold-answered', hold: 'reassess', answer: 'go-on', screw: '1' });
    expect(log.view.outOfOrder).toEqual([]);
  });
});
