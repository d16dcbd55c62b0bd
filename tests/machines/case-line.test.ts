/** What the list of cases shows of one, read off its entries and read off its folded state. */
import { describe, expect, it } from 'vitest';
import { headlineOf, headlineOfFolded, type CaseHeadline } from '../../machines/case-line.ts';
import { atTheTable, Log } from './build.ts';

/** Of the entries, after a look that the folded case says the same. */
function headline(log: Log): CaseHeadline {
  const read = headlineOf(log.entries);
  expect(headlineOfFolded(log.entries, log.folded)).toEqual(read);
  return read;
}
const opened = () => new Log().opened({ label: 'Room 2', side: 'right', bone: 'femur', at: '2026-03-04T08:00:00Z' });
const names = { label: 'Room 2', side: 'right', bone: 'femur' };
const none = { label: '', side: '', bone: '' };
const close = (log: Log) => log.write({ type: 'case-closed' });
/** A case worked on and closed. */
const done = () => close(atTheTable().tries('1', 'turn-out', 'out').write({ type: 'work-ended' }));

describe('the line of a case', () => {
  it('says nothing of an empty log', () => {
    expect(headline(new Log())).toEqual({ ...none, closed: false, entries: 0, lastAt: null });
  });

  it('names label, side and bone of the opening, how many entries there are and when the last was', () => {
    expect(headline(opened())).toEqual({ ...names, closed: false, entries: 1, lastAt: '2026-03-04T08:00:00Z' });
    const later = opened().remarks('seen', { at: '2026-03-04T08:07:00Z' });
    expect(headline(later)).toEqual({ ...names, closed: false, entries: 2, lastAt: '2026-03-04T08:07:00Z' });
  });

  it('has no names before the case is opened, and those of the first opening once there are two', () => {
    expect(headline(new Log().remarks())).toMatchObject({ ...none, entries: 1 });
    expect(headline(opened().opened({ label: 'Room 9' }))).toMatchObject({ ...names, entries: 2 });
  });

  it('goes by the opening that stands when the first was struck', () => {
    expect(headline(opened().strikes(1))).toMatchObject({ ...none, entries: 2 });
    expect(headline(new Log().opened({ label: 'Room 9' }).strikes(1).opened({ label: 'Room 2' }))).toMatchObject({
      label: 'Room 2',
    });
  });

  it('is closed by a closing behind the opening, until that closing is struck', () => {
    expect(headline(atTheTable()).closed).toBe(false);
    const log = done();
    expect(headline(log).closed).toBe(true);
    expect(headline(log.strikes(log.n)).closed).toBe(false);
    expect(headline(close(new Log())).closed).toBe(false);
    expect(headline(close(new Log()).opened()).closed).toBe(false);
  });
});
