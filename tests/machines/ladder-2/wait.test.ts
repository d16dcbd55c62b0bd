/** What opens if a screw waits: against every tactic tried as entries of the log itself, on random constructs. */
import { describe, expect, it } from 'vitest';
import type { MoveId, ToolId, WorkingStage } from '../../../content/ids.ts';
import type { Situation } from '../../../machines/situation.ts';
import { situationOf } from '../../../machines/standing.ts';
import { offerFor } from '../../../machines/view.ts';
import type { Log } from '../build.ts';
import { seeded } from '../../seeded.ts';
import { atTable, second } from './build.ts';

const ids = ['1', '2', '3', '4'] as const;
const stages: WorkingStage[] = ['seated', 'recess-stripped', 'head-sheared', 'fragment-retained'];

/** A construct of one to four screws, some of them tried already, with a part of the tools. */
function construct(random: () => number): Log {
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)] as T;
  const facts = () => ({
    stage: pick(stages),
    locking: random() < 0.4,
    diameter: pick([3.5, 4.5, null]),
    ...(random() < 0.2 && { underPlate: random() < 0.5 }),
    ...(random() < 0.1 && { form: 'headless' as const }),
  });
  const tools = second.ids.tools.filter(() => random() < 0.35);
  const log = atTable({ facts: facts(), tools, opened: { construct: pick(['plate', 'plate', 'plate', 'screws']) } });
  const count = 1 + Math.floor(random() * 4);
  for (const id of ids.slice(1, count)) log.screw(id, facts());
  for (const id of ids.slice(0, count)) {
    if (random() < 0.3) log.finds(id, { headProud: random() < 0.5, shankStands: random() < 0.5 ? 5 : 0 });
    const open = moves(log, id);
    if (open.length && random() < 0.4) log.tries(id, pick(open), pick(['no-change', 'moving', 'slipped', 'out']));
  }
  return log;
}

const answered = (log: Log) => {
  const open = log.fork();
  for (const [id, screw] of log.folded.screws)
    if (screw.matches({ reassess: 'open' })) open.answers('reassess', { screw: id });
  return open;
};
/** The offer alone: the view of a log would ask for what is tested here at every screw. */
const offerOf = ({ folded }: Log, id: string) =>
  offerFor(second, folded.case.context.room, situationOf(folded, id) as Situation);
const moves = (log: Log, id: string): MoveId[] =>
  offerOf(log, id).offered.flatMap(({ move }) => (move === 'leave-in' ? [] : [move]));
const stageOf = (log: Log, id: string) => log.folded.screws.get(id)?.context.stage as WorkingStage;
const isIn = (log: Log, id: string) => stages.includes(stageOf(log, id));

/** A tool as somebody would ask for it. */
function asked(log: Log, id: string, tool: ToolId): Log {
  const { diameter } = log.folded.screws.get(id)?.context.facts as { diameter: number | null };
  const measures = second.tools.find((one) => one.id === tool)?.measures ?? [];
  return log.fork().tool(tool, diameter !== null && measures.includes('fits') ? { fits: [diameter] } : {});
}

/** A tactic with a log in which it was done. */
interface Done {
  tactic: string;
  screws: string[];
  log: Log;
}

const out = (log: Log, going: readonly string[]): Log => {
  const first = new Map(going.map((id) => [id, moves(log, id)[0] as MoveId]));
  const after = log.fork();
  for (const id of going) after.tries(id, first.get(id) as MoveId, 'out');
  return after;
};

function done(log: Log, id: string): Done[] {
  const all = [...log.folded.screws.keys()];
  const others = all.filter((other) => other !== id && isIn(log, other));
  const going = others.filter((other) => moves(log, other).length > 0);
  const list: Done[] = going.length ? [{ tactic: 'others-out', screws: going, log: out(log, going) }] : [];
  const { room } = log.folded.case.context;
  const lies = (other: string) =>
    !room.plateOff &&
    (log.folded.screws.get(other)?.context.facts.underPlate ?? room.opened?.construct === 'plate') === true;
  const holds = (other: string) =>
    lies(other) &&
    ['seated', 'recess-stripped'].includes(stageOf(log, other)) &&
    log.folded.screws.get(other)?.context.facts.form !== 'headless';
  if (all.some(lies) && !holds(id)) {
    const holders = others.filter(holds);
    if (holders.every((other) => going.includes(other)))
      list.push({ tactic: 'plate-off', screws: holders, log: out(log, holders).write({ type: 'plate-off' }) });
    const has = (...tools: ToolId[]) => room.tools.some(({ tool }) => tools.includes(tool));
    const off = () => log.fork().write({ type: 'plate-off' });
    if (has('elevator', 'osteotome')) list.push({ tactic: 'lever-plate', screws: holders, log: off() });
    if (has('metal-cutting-saw', 'metal-cutting-burr', 'bolt-cutter'))
      list.push({ tactic: 'cut-plate', screws: holders, log: off() });
  }
  return list;
}

function expected(log: Log, id: string) {
  const before = moves(log, id);
  const opens = (after: Log) => moves(after, id).find((move) => !before.includes(move));
  for (const { tactic, screws, log: after } of done(log, id)) {
    const opened = opens(after);
    if (opened) return { tactic, screws, opens: opened, cost: cost(after, id, opened) };
  }
  const place = (move: MoveId) => {
    const { offered: rows, withdrawn } = offerOf(log, id);
    const all = [...rows.map((row) => row.move), ...withdrawn.map((row) => row.move)];
    const stage = stageOf(log, id);
    const key = (one: MoveId) => {
      const row = second.moves.find((other) => other.id === one);
      const reamed = log.folded.screws.get(id)?.context.reamed === true;
      if (one === 'extraction-sleeve' && reamed) return 0;
      return row?.order[stage] ?? Infinity;
    };
    const list = second.moves.map((one) => one.id);
    return all.sort((a, b) => (key(a) === key(b) ? list.indexOf(a) - list.indexOf(b) : key(a) - key(b))).indexOf(move);
  };
  const found = second.ids.tools.flatMap((tool) => {
    const after = asked(log, id, tool);
    const opened = opens(after);
    return opened ? [{ tactic: `tool:${tool}`, screws: [], opens: opened, cost: cost(after, id, opened) }] : [];
  });
  return found.sort((a, b) => place(a.opens) - place(b.opens))[0];
}

const cost = (log: Log, id: string, move: MoveId) =>
  offerOf(log, id).offered.find((row) => row.move === move)?.cortexLost;

it('is what trying every tactic on the log itself finds, on 200 random constructs', { timeout: 240_000 }, () => {
  const seen = new Map<string, number>();
  for (let seed = 1; seed <= 200; seed++) {
    const log = answered(construct(seeded(seed)));
    for (const [id, screw] of Object.entries(log.view.screws)) {
      if (!isIn(log, id)) {
        expect(screw.ifYouWait).toEqual([]);
        continue;
      }
      const found = expected(log, id);
      const [row, ...more] = screw.ifYouWait ?? [];
      expect(more).toEqual([]);
      expect(
        row && { tactic: row.tactic, screws: row.screws ?? [], opens: row.opens, cost: row.cortexLost },
        `${seed} ${id}`,
      ).toEqual(found);
      const kind = row ? (row.tactic.split(':')[0] as string) : 'none';
      seen.set(kind, (seen.get(kind) ?? 0) + 1);
    }
  }
  console.info('tactics found', Object.fromEntries(seen));
  for (const kind of ['others-out', 'plate-off', 'lever-plate', 'cut-plate', 'tool'])
    expect(seen.get(kind), kind).toBeGreaterThan(0);
});

describe('what opens if it waits', () => {
  const stump = (tools: readonly ToolId[]) =>
    atTable({ facts: { stage: 'head-sheared' }, tools }).screw('2', { drive: 'hexagonal' });

  it('is the plate off, once the screws that hold it are out', () => {
    const log = stump(['driver-hexagonal', 'gouge', 'head-gripper']).finds('1', { shankStands: 0 });
    expect(log.of('1').ifYouWait).toMatchObject([
      // After the plate is off nobody knows how far the shank stands.
      { tactic: 'plate-off', screws: ['2'], opens: 'grip-shank', sure: false },
    ]);
    const cost = log.of('1').ifYouWait?.[0]?.cortexLost as number;
    expect(cost).toBeCloseTo(0.131, 3);
  });

  it('is the plate levered or cut where a screw that holds it has no way out, and names that screw', () => {
    const lever = stump(['gouge', 'head-gripper', 'elevator']);
    expect(lever.of('1').ifYouWait).toMatchObject([{ tactic: 'lever-plate', screws: ['2'] }]);
    expect(stump(['gouge', 'head-gripper', 'bolt-cutter']).of('1').ifYouWait).toMatchObject([
      { tactic: 'cut-plate', screws: ['2'] },
    ]);
    expect(stump(['gouge', 'head-gripper']).of('1').ifYouWait).toEqual([]);
  });

  it('is the tool that opens the first move of the ladder, and is sure where its size can be asked for', () => {
    const log = (drive: 'hexagonal' | 'slotted', driveSize?: number) =>
      atTable({ opened: { construct: 'screws' }, facts: { drive, driveSize }, tools: [] }).of('1').ifYouWait;
    expect(log('slotted')).toMatchObject([{ tactic: 'tool:driver-slotted', opens: 'turn-out', sure: true }]);
    expect(log('hexagonal', 3.5)).toMatchObject([{ tactic: 'tool:driver-hexagonal', opens: 'turn-out', sure: true }]);
    expect(log('hexagonal')).toMatchObject([{ tactic: 'tool:driver-hexagonal', opens: 'turn-out', sure: false }]);
  });

  it('is nothing for a screw that is out or stays, and nothing where all that could open is open', () => {
    expect(atTable().tries('1', 'turn-out', 'out').of('1').ifYouWait).toEqual([]);
    expect(atTable().leaves('1').of('1').ifYouWait).toEqual([]);
    expect(atTable().of('1').ifYouWait).toEqual([]);
  });
});
