/** The machines and the record in Node: replay, one more entry, the bone section, the note. */
import { transition } from 'xstate';
import { loadContent } from '../../content/catalog.ts';
import type { Content, Move } from '../../content/types.ts';
import { section } from '../../machines/compute/ring.ts';
import type { Bore, Entry } from '../../machines/entry.ts';
import { fold, step } from '../../machines/fold.ts';
import { screwMachine } from '../../machines/screw.machine.ts';
import { view } from '../../machines/view.ts';
import { buildRecord, note, noteForms } from '../../src/record/index.ts';
import { caseOf, logOf } from '../browsers/long-case.ts';
import { inTurn, median, ratio, spread, type Row } from './stats.ts';

const content = loadContent('2026.1') as Content;
const sizes = [100, 1000, 10_000];

/** As many bare transitions of the screw's machine as the log has entries: starts and ends in turn, as in the log. */
function bare(log: readonly Entry[]): () => void {
  const machine = screwMachine(content);
  const start = fold(log.slice(0, 4), content).screws.get('1') as never;
  const [started, ended] = [log[4], log[5]];
  const events = [
    { type: 'move-started', steady: 0, move: content.moves[0] as Move, projected: [], entry: started },
    { type: 'move-ended', steady: 0, entry: ended },
  ] as never[];
  return () => {
    let snapshot: never = start;
    for (let i = 0; i < log.length; i++) snapshot = transition(machine, snapshot, events[i % 2] as never)[0] as never;
  };
}

function replays(): Row[] {
  const perEntry: number[] = [];
  const rows = sizes.map((count): Row => {
    const log = logOf(count);
    const [replay, floor] = inTurn(count > 5000 ? 7 : 15, () => void fold(log, content), bare(log)) as [
      number[],
      number[],
    ];
    perEntry.push((median(replay) / count) * 1000);
    return {
      what: `replay of ${count} entries`,
      measured: spread(replay, 'ms'),
      against: `${spread(floor, 'ms')}: ${count} bare \`transition()\` calls of the screw's machine`,
      ratio: ratio(median(replay), median(floor)),
      goal: '≤ 1.5',
    };
  });
  const [few, , many] = perEntry as [number, number, number];
  return [
    ...rows,
    {
      what: 'replay grows linearly',
      measured: `${many.toFixed(1)} µs an entry at 10,000`,
      against: `${few.toFixed(1)} µs an entry at 100`,
      ratio: ratio(many, few),
      goal: '≤ 1.5',
    },
  ];
}

/** One more entry, from the folded state to the new view. */
function oneMore(): Row {
  const work = (count: number) => {
    const log = logOf(count + 1);
    const before = log.slice(0, count);
    const state = fold(before, content);
    return () => {
      for (let i = 0; i < 200; i++) view(step(state, log[count] as Entry, before));
    };
  };
  const [long, short] = inTurn(15, work(10_000), work(100)) as [number[], number[]];
  return {
    what: 'one more entry at 10,000, × 200',
    measured: spread(long, 'ms'),
    against: `${spread(short, 'ms')}: the same at 100`,
    ratio: ratio(median(long), median(short)),
    goal: '≤ 1.5',
  };
}

function ring(): Row {
  const bores: Bore[] = [0, 40, 80, 120].map((turn) => ({ wall: 'both', diameter: 4.5, turn }));
  const [times] = inTurn(15, () => {
    for (let i = 0; i < 1000; i++) section(27, 5, bores);
  }) as [number[]];
  return {
    what: 'bone section, 4 bores',
    measured: spread(times, 'µs'),
    against: '50 µs',
    ratio: ratio(median(times), 50),
    goal: '≤ 1',
  };
}

function notes(): Row[] {
  const perEntry: number[] = [];
  const rows = [100, 1000].map((count): Row => {
    const log = caseOf(count, Date.UTC(2026, 2, 2, 12));
    const folded = fold(log, content);
    const write = () => {
      const record = buildRecord(log, folded, view(folded), content);
      for (const form of noteForms) note(form, record, content);
    };
    const [forms, floor] = inTurn(9, write, () => void JSON.stringify(log)) as [number[], number[]];
    perEntry.push((median(forms) / count) * 1000);
    return {
      what: `note in every form, ${count} entries`,
      measured: spread(forms, 'ms'),
      against: `${spread(floor, 'ms')}: \`JSON.stringify\` of the log`,
      ratio: ratio(median(forms), median(floor)),
      goal: 'stated',
    };
  });
  const [few, many] = perEntry as [number, number];
  return [
    ...rows,
    {
      what: 'note grows linearly',
      measured: `${many.toFixed(0)} µs an entry at 1,000`,
      against: `${few.toFixed(0)} µs an entry at 100`,
      ratio: ratio(many, few),
      goal: '≤ 1.5',
    },
  ];
}

export const coreRows = (): Row[] => [...replays(), oneMore(), ring(), ...notes()];
