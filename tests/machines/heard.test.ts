/** Which entries are heard before a case is opened, while it is open and once it is closed; every type is asked. */
import { describe, expect, it } from 'vitest';
import { entryTypes, type EntryDraft, type EntryType } from '../../machines/entry.ts';
import { Log, atTheTable, inTheRoom } from './build.ts';

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

  it('all but moves and a second opening in the briefing', () =>
    expect(heard(inTheRoom)).toEqual(allBut('case-opened', 'move-started', 'move-ended', 'work-ended')));

  it('all but a second start at the table, and an end once a move runs', () => {
    expect(heard(atTheTable)).toEqual(allBut('case-opened', 'work-started', 'move-ended'));
    expect(heard(() => atTheTable().begins('1', 'grip-head'))).toEqual(allBut('case-opened', 'work-started'));
  });

  it('a move once the work has ended, which takes it up again', () =>
    expect(heard(() => atTheTable().write({ type: 'work-ended' }))).toEqual(
      allBut('case-opened', 'work-started', 'move-ended'),
    ));

  it('what is only written down once the case is closed', () =>
    expect(heard(() => atTheTable().write({ type: 'case-closed' }))).toEqual([
      ...['note-field', 'patient-told', 'signed', 'remark'],
    ]));

  it('of a screw that is out: what was found, measured or recovered of it, and no move', () => {
    const ofScrew = entryTypes.filter((type) => 'screw' in drafts[type]);
    expect(heard(() => atTheTable().tries('1', 'turn-out', 'out')).filter((type) => ofScrew.includes(type))).toEqual([
      ...['screw-listed', 'reassessed', 'found', 'piece-recovered'],
    ]);
  });

  it('of a tool and of the whole bone what is also heard of a screw', () => {
    const { screw: _, ...recovered } = drafts['piece-recovered'] as { screw?: string; type: 'piece-recovered' };
    const { screw: _s, ...left } = drafts['left-in'] as { screw?: string; type: 'left-in' };
    const log = atTheTable()
      .write({ ...recovered, tool: 'pick' } as EntryDraft)
      .write({ ...left, tool: 'pick' } as EntryDraft)
      .write({ type: 'bone-measured', screw: '1', outer: 20, cortex: 4, source: 'measured' })
      .write({ type: 'hold-answered', hold: 'reassess', answer: 'go-on', screw: '1' });
    expect(log.view.outOfOrder).toEqual([]);
  });
});
