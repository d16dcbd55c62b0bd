/** What the commands answer: status 0, or 1 where the answer is "no". */
import { describe, expect, it } from 'vitest';
import type { Entry } from '../../machines/entry.ts';
import { sealAll } from '../../machines/seal.ts';
import { run } from '../../src/commands.ts';
import { atTheTable, Log } from '../machines/build.ts';
import { begun, caseOf, fileWith, ofEntries } from './files.ts';

const answer = async (...args: string[]) => {
  const { status, stdout, stderr } = await run(args);
  expect(stderr).toBe('');
  return { status, json: JSON.parse(stdout) as Record<string, unknown>, stdout };
};
const file = (log: Log, more: object = {}) => fileWith(caseOf(log.entries, more));

describe('state', () => {
  it('prints every field of the folded state and no other', async () => {
    const { status, json } = await answer('state', file(atTheTable().tries('1', 'turn-out', 'slipped')));
    expect(status).toBe(0);
    expect(Object.keys(json)).toEqual([
      'phase',
      'called',
      'screws',
      'toolTips',
      'parts',
      'stopped',
      'limits',
      'holds',
      'notices',
      'clocks',
      'outOfOrder',
      'unoffered',
      'unanswered',
      'struck',
      'late',
      'impossibleTimes',
      'conflicts',
      'seals',
      'brokenAt',
    ]);
    const screw = (json.screws as Record<string, Record<string, unknown>>)['1'] ?? {};
    expect(Object.keys(screw)).toEqual([
      'stage',
      'slips',
      'chanceLeft',
      'move',
      'holds',
      'notices',
      'offered',
      'withdrawn',
      'metal',
      'mayDefer',
      'lengthAsked',
    ]);
    expect(Object.keys((screw.offered as object[])[0] ?? {}).sort()).toEqual(
      [
        'move',
        'holds',
        'cortexLost',
        'cortexLostBefore',
        'bendingKept',
        'torsionKept',
        'torsionTested',
        'shavings',
        'assumed',
      ].sort(),
    );
    expect(Object.keys((screw.withdrawn as object[])[0] ?? {})).toEqual(['move', 'why', 'missing']);
    expect(Object.keys(screw.metal as object)).toEqual([
      'listed',
      'recovered',
      'destroyed',
      'left',
      'unaccounted',
      'closes',
    ]);
    expect(Object.keys(json.clocks as object)).toEqual([
      'caseMinutes',
      'moveMinutes',
      'tourniquetUp',
      'tourniquetMinutes',
      'tourniquetTotalMinutes',
      'reperfusionMinutes',
      'antibioticDueMinutes',
      'shots',
    ]);
  });

  it('of a second slip and its reassessment, as by hand', async () => {
    const log = new Log().opened().bone(27, 5).screw('3').room('driver-hexagonal', 'metal-foil', 't-handle').start();
    log.tries('3', 'turn-out', 'slipped').looksAgain('3').tries('3', 'reseat-driver', 'slipped').looksAgain('3');
    const { json } = await answer('state', file(log));
    const plain = {
      holds: [],
      cortexLost: expect.closeTo(0.1312, 4),
      cortexLostBefore: expect.closeTo(0.1312, 4),
      bendingKept: expect.closeTo(0.7544, 4),
      torsionKept: expect.closeTo(0.693, 4),
      torsionTested: true,
      shavings: false,
      assumed: [],
    };
    expect(json).toMatchObject({
      phase: 'working',
      called: '3',
      screws: {
        3: {
          stage: 'recess-stripped',
          slips: 2,
          chanceLeft: 0.25,
          move: null,
          holds: ['second-surgeon'],
          notices: [],
          metal: { listed: 36, recovered: 0, destroyed: 0, left: 0, unaccounted: 36, closes: null },
        },
      },
      toolTips: [],
      holds: [],
      notices: [],
      outOfOrder: [],
      unoffered: [],
      unanswered: [],
      struck: [],
      late: [],
      seals: 'unsealed',
      brokenAt: null,
    });
    const screw = (json.screws as Record<string, { offered: object[]; withdrawn: object[] }>)['3'];
    expect(screw?.offered).toEqual([
      { move: 'pack-recess', ...plain },
      { move: 'leave-in', ...plain },
    ]);
    expect(screw?.withdrawn).toEqual(
      expect.arrayContaining([
        { move: 'reseat-driver', why: 'slipped', missing: [] },
        { move: 'reverse-tap', why: 'tool-missing', missing: ['hard-metal-drill', 'reverse-tap'] },
      ]),
    );
  });

  it('stands as of the latest entry, or of a time given, with jumps of the clock taken out [Z13]', async () => {
    const log = new Log()
      .opened()
      .screw('1')
      .start({ at: '2026-03-04T09:00:00Z' })
      .write({ type: 'clock-jumped', seconds: 600, at: '2026-03-04T09:20:00Z' });
    const minutes = async (...args: string[]) =>
      ((await answer('state', file(log), ...args)).json.clocks as Record<string, number>).caseMinutes;
    expect(await minutes()).toBe(10);
    expect(await minutes('--at', '2026-03-04T09:30:00Z')).toBe(20);
    expect(await minutes('--at', '2026-03-04T10:05:00+01:00')).toBe(5);
  });

  it('of an empty log is a briefing without a figure that is none', async () => {
    const { json, stdout } = await answer('state', fileWith(caseOf([])));
    expect(json).toMatchObject({ phase: 'briefing', called: null, screws: {}, seals: 'unsealed' });
    expect(stdout).not.toContain('Infinity');
    expect(json.clocks).toMatchObject({ caseMinutes: null, tourniquetMinutes: 0 });
  });
});

describe('check', () => {
  it('says yes to a sealed case and to one without seals', async () => {
    const sealed = sealAll(begun().entries);
    const head = { n: sealed.length, seal: sealed.at(-1)?.seal };
    expect(await answer('check', fileWith(caseOf(sealed, { head })))).toMatchObject({
      status: 0,
      json: {
        seals: 'whole',
        brokenAt: null,
        entries: sealed.length,
        outOfOrder: [],
        unanswered: [],
        late: [],
        struck: [],
      },
    });
    expect(await answer('check', file(begun()))).toMatchObject({
      status: 0,
      json: { seals: 'unsealed', brokenAt: null },
    });
  });

  it('says no to a case with one seal taken out, and names the entry [Z15]', async () => {
    const sealed = sealAll(begun().remarks().remarks().entries);
    const head = { n: sealed.length, seal: sealed.at(-1)?.seal };
    for (const end of [{}, { head }])
      for (const { n } of sealed) {
        const entries = sealed.map(({ seal, ...entry }) => (entry.n === n ? entry : { ...entry, seal })) as Entry[];
        expect(await answer('check', fileWith(caseOf(entries, end)))).toMatchObject({
          status: 1,
          json: { seals: 'broken', brokenAt: n },
        });
      }
  });

  it('says no to an end that by its time lies before its own start, and by which rules it read [Z16]', async () => {
    const log = atTheTable().begins('1', 'turn-out', { at: '2026-03-04T10:20:00Z' });
    log.ends('1', 'no-change', { at: '2026-03-04T10:15:00Z', logged: '2026-03-04T10:21:30Z' });
    expect(await answer('check', file(log))).toMatchObject({
      status: 1,
      json: { impossibleTimes: [log.n], outOfOrder: [], rules: 2 },
    });
  });

  it('says no to a broken seal, which state still reads [Z15]', async () => {
    const entries = sealAll(begun().remarks('as it was').entries).map((entry) =>
      entry.type === 'remark' ? { ...entry, text: 'as it was not' } : entry,
    );
    expect(await answer('check', fileWith(caseOf(entries)))).toMatchObject({
      status: 1,
      json: { seals: 'broken', brokenAt: entries.length },
    });
    expect(await answer('state', fileWith(caseOf(entries)))).toMatchObject({
      status: 0,
      json: { seals: 'broken', phase: 'working' },
    });
  });

  it('says no to a dropped tail and to what is out of order [Z15]', async () => {
    const sealed = sealAll(begun().remarks().remarks().entries);
    const head = { n: sealed.length, seal: sealed.at(-1)?.seal };
    expect(await answer('check', fileWith(caseOf(sealed.slice(0, -1), { head })))).toMatchObject({
      status: 1,
      json: { brokenAt: sealed.length },
    });
    const twice = begun().start();
    expect(await answer('check', file(twice))).toMatchObject({ status: 1, json: { outOfOrder: [twice.n] } });
    expect((await ofEntries(twice.entries)).status).toBe(0);
  });

  it('says yes to what is merely unanswered, late or struck', async () => {
    const log = atTheTable().tries('1', 'turn-out', 'slipped').begins('1', 'pack-recess');
    const move = log.n;
    log.remarks('late', { at: '2026-03-04T08:00:00Z', logged: '2026-03-04T12:00:00Z' });
    const late = log.n;
    log.strikes(late);
    expect(await answer('check', file(log))).toMatchObject({
      status: 0,
      json: { unanswered: [{ hold: 'reassess', entry: move }], late: [late], struck: [late] },
    });
  });
});

describe('ready', () => {
  it('says yes to a room with everything and no to a room with nothing', async () => {
    const { status, json } = await answer('ready', file(atTheTable()));
    expect(status).toBe(0);
    const parts = ['doNotStart', 'deadEnds', 'cannotSay', 'heldBy', 'bring', 'consentOpen', 'assumed'];
    expect(Object.keys(json)).toEqual(parts);
    const bare = await answer('ready', file(new Log().opened().screw('1', { locking: true })));
    expect(bare.status).toBe(1);
    expect(bare.json.doNotStart).toContainEqual({ reason: 'no-hard-metal-drill', missing: ['hard-metal-drill'] });
  });

  it('says yes where some dead end is left but no screw is without a way', async () => {
    const log = new Log().opened().screw('1', { driveSize: 3.5 }).room('conical-extractor', 't-handle');
    const undriven = await answer('ready', file(log));
    expect(undriven.status).toBe(1);
    expect(undriven.json.deadEnds).toContainEqual({ screw: '1', stage: 'seated', opensWith: ['driver-hexagonal'] });
    log.tool('driver-hexagonal', { size: 3.5 });
    const { status, json } = await answer('ready', file(log));
    expect(status).toBe(0);
    expect(json.deadEnds).toEqual([
      { screw: '1', stage: 'head-sheared', opensWith: expect.any(Array) },
      { screw: '1', stage: 'fragment-retained', opensWith: expect.any(Array) },
    ]);
  });
});
