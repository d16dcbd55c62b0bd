/** Ratios against floors measured in the same run: `npm run bench`. No test; a slow machine only makes both slower. */
import { transition } from 'xstate';
import { loadContent } from '../../content/catalog.ts';
import type { Content, Move } from '../../content/types.ts';
import { section } from '../../machines/compute/ring.ts';
import type { Bore, Entry } from '../../machines/entry.ts';
import { fold, step } from '../../machines/fold.ts';
import { screwMachine } from '../../machines/screw.machine.ts';
import { view } from '../../machines/view.ts';

const content = loadContent('2026.1') as Content;
const at = '2026-03-02T09:00:00Z';

/** A log of so many entries: one screw that comes thread by thread, for ever. */
function logOf(count: number): Entry[] {
  const fields: object[] = [
    { type: 'case-opened', label: 'bench', zone: 'UTC', side: 'left', bone: 'tibia', construct: 'plate', planned: '' },
    {
      ...{ type: 'screw-listed', screw: '1', diameter: 4.5, thread: 'cortical', locking: false, drive: 'hexagonal' },
      ...{ material: 'steel', length: 36, cortices: 2 },
    },
    { type: 'tool-in-room', tool: 'driver-hexagonal', present: true },
    { type: 'work-started' },
  ];
  while (fields.length < count)
    fields.push(
      { type: 'move-started', screw: '1', move: 'turn-out', bores: [] },
      { type: 'move-ended', screw: '1', outcome: 'moving', bores: [] },
    );
  return fields.slice(0, count).map((entry, i) => ({ n: i + 1, at, logged: at, ...entry }) as Entry);
}

const median = (values: number[]) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] as number;
function timed(work: () => void, runs = 7): { median: number; spread: string } {
  work();
  const times = Array.from({ length: runs }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return { median: median(times), spread: `${Math.min(...times).toFixed(2)}–${Math.max(...times).toFixed(2)}` };
}

const rows: string[][] = [['what', 'median ms', 'spread ms', 'against', 'ratio']];
const turnOut = content.moves[0] as Move;
for (const count of [100, 1000, 10_000]) {
  const log = logOf(count);
  const machine = screwMachine(content);
  const screw = fold(log.slice(0, 4), content).screws.get('1') as never;
  const start = { type: 'move-started', steady: 0, move: turnOut, projected: [], entry: { ...log[4] } } as never;
  const floor = timed(() => {
    for (let i = 0; i < count; i++) transition(machine, screw, start);
  });
  const replay = timed(() => void fold(log, content));
  rows.push([
    `replay of ${count} entries`,
    replay.median.toFixed(2),
    replay.spread,
    `${count} bare transitions`,
    (replay.median / floor.median).toFixed(2),
  ]);
}
const one = (count: number) => {
  const log = logOf(count + 1);
  const before = log.slice(0, count);
  const state = fold(before, content);
  return timed(() => {
    for (let i = 0; i < 200; i++) view(step(state, log[count] as Entry, before));
  });
};
const [short, long] = [one(100), one(10_000)];
rows.push([
  'one more entry at 10,000, × 200',
  long.median.toFixed(2),
  long.spread,
  'at 100',
  (long.median / short.median).toFixed(2),
]);

const bores: Bore[] = [0, 40, 80, 120].map((turn) => ({ wall: 'both', diameter: 4.5, turn }));
const ring = timed(() => {
  for (let i = 0; i < 1000; i++) section(27, 5, bores);
});
rows.push([
  'ring, 4 bores, × 1,000 (so: µs each)',
  ring.median.toFixed(1),
  ring.spread,
  '50 µs',
  (ring.median / 50).toFixed(2),
]);
console.log(rows.map((row) => `| ${row.join(' | ')} |`).join('\n'));
