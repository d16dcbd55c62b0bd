/** Invented cases of the present release and of one that nobody released, as the files that a device hands over. */
import { currentVersion } from '../../content/releases/index.ts';
import type { CaseFile } from '../../machines/case-file.ts';
import type { Entry } from '../../machines/entry.ts';
import { sealAll } from '../../machines/seal.ts';
import { caseFile } from '../../src/session/case-file.ts';
import { Log } from '../machines/build.ts';
import { inventedVersion } from './invented.ts';

/** What an entry of any format may hold besides what the present one knows. */
type Loose = Readonly<Record<string, unknown> & { type: string }>;

/** A log that also takes entries of formats that the present one does not know. */
export class LooseLog extends Log {
  add(entry: Loose): this {
    return this.write(entry as never);
  }
}

/** A plate, one screw: stripped, then out. `extra` stands behind the start of the work. */
export function plate(label: string, extra: readonly Loose[] = [], opening: object = {}): LooseLog {
  const log = new LooseLog()
    .opened({ label, ...opening })
    .screw('1')
    .tool('driver-hexagonal');
  if ('writtenIn' in opening) log.add({ type: 'tool-in-room', tool: 'warming-iron', present: true });
  log.room('mallet');
  log.start().tries('1', 'turn-out', 'slipped').looksAgain('1');
  for (const entry of extra) log.add(entry);
  return log;
}

const closed = (log: LooseLog) =>
  log
    .write({ type: 'work-ended' })
    .write({ type: 'count-answered', by: ['scrub', 'circulating'] })
    .write({ type: 'case-closed' });

export const sealed = (log: Log): readonly Entry[] => sealAll(log.entries);

/** All that the invented release, format and rules have more, in one case. */
export const inventedEntries: readonly Loose[] = [
  { type: 'consent-point', point: 'may-be-warmed', confirmed: true },
  { type: 'photo-taken', of: 'the plate' },
  { type: 'move-started', screw: '1', move: 'warm-head', tool: 'warming-iron' },
  { type: 'move-ended', screw: '1', outcome: 'half-out' },
  { type: 'hold-answered', hold: 'second-look', screw: '1', answer: 'go-on' },
  { type: 'move-started', screw: '1', move: 'warm-head', tool: 'warming-iron' },
  { type: 'move-ended', screw: '1', outcome: 'out' },
  { type: 'note-field', field: 'skin-marks', text: 'none seen' },
];

export const knownCase = (label = 'Room 4, known') =>
  closed(
    plate(label, [
      { type: 'move-started', screw: '1', move: 'reseat-driver' },
      { type: 'move-ended', screw: '1', outcome: 'out' },
    ]),
  );
export const inventedCase = (label = 'Room 4, to come') => closed(plate(label, inventedEntries, { writtenIn: 3 }));

export const fileOf = (log: Log, contentVersion: string): CaseFile => caseFile({ contentVersion }, sealed(log));
export const knownFile = (label?: string): CaseFile => fileOf(knownCase(label), currentVersion);
export const inventedFile = (label?: string): CaseFile => fileOf(inventedCase(label), inventedVersion);

/** As a JSON reader gives it. */
export const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value));
