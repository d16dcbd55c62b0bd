/** Invented logs of any length. */
import type { Entry } from '../../machines/entry.ts';
import { sealAll } from '../../machines/seal.ts';
import { demoDrafts } from '../../src/session/demo.ts';
import '../../src/format/later-messages.ts';

const at = '2026-03-02T09:00:00Z';

/** One screw that comes thread by thread, for ever: the cheapest entries there are. */
export function logOf(count: number): Entry[] {
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

/**
 * The invented case of the first run, played on: eight screws called in turn and turned thread by thread, with images,
 * wash-outs and remarks between. Ten seconds an entry, the last one just now, screw 3 called, nothing running.
 *
 * @param count entries, at least 60
 * @param now ms since 1970
 */
export function caseOf(count: number, now: number): Entry[] {
  const fields: object[] = [...demoDrafts('UTC'), { type: 'work-started' }];
  for (let turn = 0; fields.length < count - 4; turn++) {
    const screw = String((turn % 8) + 1);
    fields.push(
      { type: 'screw-called', screw },
      { type: 'move-started', screw, move: 'turn-out', calledBy: 'surgeon', loggedBy: 'circulating' },
      { type: 'move-ended', screw, outcome: 'moving', calledBy: 'surgeon', loggedBy: 'circulating' },
    );
    if (turn % 5 === 0) fields.push({ type: 'images', shots: 1 }, { type: 'remark', text: `Turn ${turn} (invented)` });
    if (turn % 9 === 0) fields.push({ type: 'washed-out' });
  }
  fields.length = Math.min(fields.length, count - 1);
  while ((fields.at(-1) as { type: string }).type === 'move-started') fields.pop();
  while (fields.length < count - 1) fields.push({ type: 'remark', text: 'Nothing new (invented)' });
  fields.push({ type: 'screw-called', screw: '3' });
  const time = (i: number) => new Date(now - (fields.length - i) * 10_000).toISOString();
  return sealAll(fields.map((entry, i) => ({ n: i + 1, at: time(i), logged: time(i), ...entry }) as Entry));
}
