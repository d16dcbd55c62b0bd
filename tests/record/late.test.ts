/** What a record says of what was told late, of times that cannot be, and of what nobody said. */
import { describe, expect, it } from 'vitest';
import { view } from '../../machines/view.ts';
import { buildPatient, buildRecord, note, pageText } from '../../src/record/index.ts';
import { table2 } from '../machines/build-2.ts';
import { atTheTable, content, inTheRoom, type Log } from '../machines/build.ts';
import { valueOf } from './helpers.ts';

const record = (log: Log) => buildRecord(log.entries, log.folded, view(log.folded), content);
const text = (log: Log) => note('text', record(log), content).replace(/\s+/g, ' ');
const rows = (log: Log) =>
  record(log).sections.flatMap(({ blocks }) =>
    blocks.flatMap((block) => (block.kind === 'timeline' ? block.rows : [])),
  );
const late = (at: string, logged: string) => ({ at: `2026-03-04T${at}Z`, logged: `2026-03-04T${logged}Z` });
const table = () => inTheRoom({}, { zone: 'UTC' }).start({ at: '2026-03-04T10:00:00Z' });

describe('a slip told after the screw is out', () => {
  const log = () =>
    table()
      .begins('1', 'turn-out', late('10:20:00', '10:20:00'))
      .ends('1', 'out', { recovered: 36, ...late('10:22:00', '10:22:00') })
      .begins('1', 'turn-out', late('10:10:00', '10:30:00'))
      .ends('1', 'slipped', late('10:11:00', '10:31:00'));

  it('stands in the timeline at its own time, marked late, and with the tries of its screw in their order', () => {
    const moves = rows(log()).filter(({ type }) => type.startsWith('move-'));
    expect(moves.map(({ time, late: isLate }) => [time, isLate])).toEqual([
      ['10:10:00', true],
      ['10:11:00', true],
      ['10:20:00', false],
      ['10:22:00', false],
    ]);
    const tries = record(log()).facts.screws[0]?.attempts.map(({ move, outcome }) => [move, outcome]);
    expect(tries).toEqual([
      ['turn-out', 'slipped'],
      ['turn-out', 'out'],
    ]);
    expect(text(log())).toContain('1 slip in the recess');
    expect(text(log())).not.toContain('OUT OF ORDER');
  });
});

describe('times that cannot be', () => {
  it('are marked where they stand, and named for review', () => {
    const log = table()
      .begins('1', 'turn-out', late('10:20:00', '10:20:00'))
      .ends('1', 'no-change', late('10:15:00', '10:21:30'));
    expect(rows(log).find(({ n }) => n === log.n)?.marks).toContain('TIME CANNOT BE: an end before its own start');
    expect(text(log)).toContain(`entry ${log.n}: by the times told, an end before its own start; for review`);
  });

  it('two stories that contradict each other name each other', () => {
    const log = table()
      .begins('1', 'turn-out', late('10:20:00', '10:20:00'))
      .ends('1', 'out', late('10:21:00', '10:21:00'));
    const out = log.n;
    log.begins('1', 'turn-out', late('10:25:00', '10:30:00')).ends('1', 'slipped', late('10:26:00', '10:31:00'));
    const marks = (n: number) => rows(log).find((row) => row.n === n)?.marks;
    expect(marks(out)).toContain(`CONTRADICTS entry ${log.n}: both cannot be true as told`);
    expect(marks(log.n)).toContain(`CONTRADICTS entry ${out}: both cannot be true as told`);
  });
});

describe('the cuff forgotten between two inflations', () => {
  it('has two spans, and no sentence of a cuff that was up all the time', () => {
    const log = table()
      .write({ type: 'tourniquet', to: 'up', ...late('10:05:00', '10:05:00') })
      .write({ type: 'tourniquet', to: 'up', ...late('11:00:00', '11:00:00') })
      .write({ type: 'tourniquet', to: 'down', ...late('10:45:00', '11:05:00') })
      .write({ type: 'tourniquet', to: 'down', ...late('11:10:00', '11:10:00') });
    const blocks = record(log).sections.flatMap((section) => section.blocks);
    const cuff = blocks.find((block) => block.kind === 'item' && block.id === 'tourniquet');
    const said = JSON.stringify(cuff);
    expect(said).toContain('10:05:00');
    expect(said).toContain('40 min');
    expect(said).toContain('50 min');
    expect(said).not.toContain('65 min');
  });
});

describe('the account of the metal', () => {
  it('of a screw of 36 mm, its head drilled off, of which 29 mm came out: 7 mm are not accounted for', () => {
    const log = atTheTable()
      .tries('1', 'turn-out', 'slipped')
      .looksAgain('1')
      .tries('1', 'drill-head-off', 'set-up-done')
      .tries('1', 'grip-shank', 'out', { recovered: 29 });
    const said = text(log);
    expect(said).toContain('listed 36 mm, recovered 29 mm, stays 0 mm, not accounted for 7 mm; NOT ACCOUNTED FOR');
    expect(said).not.toMatch(/about 36 mm|missing 0/);
  });

  it('of a screw that came out unmeasured says so, and gives no length that nobody measured', () => {
    const log = atTheTable().tries('1', 'turn-out', 'out');
    expect(text(log)).toContain('recovered not measured');
    expect(text(log)).toContain('taken as whole: not measured, and no break entered');
  });

  it('that nobody measured is never said not to add up, on the page for the patient either', () => {
    const broken = (length: number | null) =>
      atTheTable({ length }).tries('1', 'turn-out', 'head-sheared').tries('1', 'grip-shank', 'out');
    const page = (log: Log) => pageText(buildPatient(record(log), content));
    for (const length of [null, 36]) {
      expect(page(broken(length))).toContain('It is not known if all of screw 1 is out');
      expect(page(broken(length))).not.toMatch(/add up|\d mm long/);
    }
  });

  it('names nobody as having called, decided or entered what nobody was named for', () => {
    const log = atTheTable().tries('1', 'turn-out', 'out').leaves('1');
    expect(text(log)).not.toMatch(/called by the surgeon|entered by the|on the word of/i);
  });
});

describe('where a piece lies', () => {
  const broken = (found: object) =>
    atTheTable()
      .begins('1', 'turn-out')
      .ends('1', 'shank-broke', { reachable: false, recovered: 5 })
      .finds('1', { nearSurface: 0, ...found });

  it('is estimated from lengths, but never against what was seen: a tip that is not proud lies beyond no cortex', () => {
    expect(text(broken({}))).toContain('beyond the far cortex');
    expect(text(broken({ tipProud: false }))).not.toContain('beyond the far cortex');
  });
});

describe('the clock of a station', () => {
  it('is told in the timeline, and is never taken for that of the theatre', () => {
    const compared = (source: 'wall' | 'station') =>
      record(table2().write({ type: 'clock-compared', theatreClock: '2026-03-04T09:00:00Z', source }));
    const items = (source: 'wall' | 'station') => valueOf(compared(source), 'clocks', 'theatre-clock');
    expect(items('wall')).toContain('it read 10:00:00');
    expect(items('station')).toBe('not recorded');
    expect(note('text', compared('station'), content).replace(/\s+/g, ' ')).toContain(
      'The clock of a station was compared',
    );
  });
});

describe('the limits in force', () => {
  it('bear the source of the release until somebody sets others, and then the entry that set them', () => {
    expect(text(atTheTable())).not.toContain('set for this case');
    const log = atTheTable().write({ type: 'limits-set', boneStop: 0.5 });
    expect(text(log)).toMatch(new RegExp(`upper limit 50 % [^;]*\\(set for this case, entry ${log.n}\\)`));
  });
});

describe('the bone', () => {
  it('of a screw that only left its own hole is said to reach no limit', () => {
    const log = inTheRoom({ diameter: 5 }, { bone: 'radius' }).bone(12, 2).start().tries('1', 'turn-out', 'out');
    expect(text(log)).not.toContain('The loss reaches');
    const gouged = inTheRoom({ diameter: 5 }, { bone: 'radius' }).bone(12, 2).start();
    gouged.begins('1', 'gouge-and-grip').ends('1', 'out', { bores: [{ wall: 'near', diameter: 9 }] });
    expect(text(gouged)).toContain('The loss reaches');
  });
});
