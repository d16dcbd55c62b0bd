/** What the log itself knows under the items of the note: lines of words, empty where it knows nothing. */
import { epoch } from '../../machines/time.ts';
import type { History } from './history.ts';
import type { Log } from './log.ts';
import { screwName } from './narrative-moves.ts';
import { bore, clean, count, list, minutes, mm, num, some, tally } from './words.ts';

export const outLine = (log: Log): string[] => {
  const screws = Object.entries(log.view.screws);
  if (!screws.length) return [];
  const out = screws.filter(([, { stage }]) => stage === 'out').length;
  const left = screws.filter(([, { stage }]) => stage === 'left-in').map(([id]) => screwName(id));
  const open = screws.filter(([, { stage }]) => stage !== 'out' && stage !== 'left-in').map(([id]) => screwName(id));
  return some(
    `${out} of ${count(screws.length, 'listed screw')} out`,
    left.length > 0 && `${list(left)} left in`,
    open.length > 0 && `${list(open)} neither out nor left in`,
    log.of('plate-off').length > 0 && 'plate taken off',
  );
};

export const findingLines = (log: Log): string[] =>
  log.of('found').map((entry) => {
    const yes = (value: boolean | undefined, what: string) =>
      value !== undefined && `${what} ${value ? 'proud' : 'not proud'}`;
    const facts = some(
      yes(entry.headProud, 'head'),
      yes(entry.shankProud, 'shank'),
      yes(entry.tipProud, 'tip at the far cortex'),
      entry.corridor !== undefined && `${entry.corridor ? 'a' : 'no'} corridor on the far side`,
      entry.fragmentLength !== undefined && `piece ${mm(entry.fragmentLength)} long`,
      entry.nearSurface !== undefined &&
        `upper end ${mm(Math.abs(entry.nearSurface))} ${entry.nearSurface < 0 ? 'below' : 'above'} the near cortex when seated`,
    );
    return `${screwName(entry.screw)} at ${log.when(epoch(entry.at))}: ${facts.join(', ') || 'looked at, no finding entered'}`;
  });

/** Slips, breakages, jammed and damaged tools, as the log counts them. */
export function problemLines(log: Log, { attempts }: History): string[] {
  const ends = (outcome: string) => attempts.filter((attempt) => attempt.outcome === outcome);
  const screws = (outcome: string) => list([...new Set(ends(outcome).map(({ screw }) => screwName(screw)))]);
  const unplanned = attempts.filter(({ outcome, move }) => outcome === 'head-sheared' && move !== 'drill-head-off');
  const damaged = log.of('tool-damaged');
  return some(
    ends('slipped').length > 0 && `${count(ends('slipped').length, 'slip')} (${screws('slipped')})`,
    unplanned.length > 0 &&
      `${count(unplanned.length, 'head')} came off (${list(unplanned.map(({ screw }) => screwName(screw)))})`,
    ends('shank-broke').length > 0 && `${count(ends('shank-broke').length, 'broken shank')} (${screws('shank-broke')})`,
    ends('tool-broke').length > 0 && `${count(ends('tool-broke').length, 'broken tool')} (${screws('tool-broke')})`,
    ends('tool-jammed').length > 0 && `${count(ends('tool-jammed').length, 'jammed tool')} (${screws('tool-jammed')})`,
    damaged.length > 0 && `${count(damaged.length, 'tool')} entered as damaged`,
    log.folded.outOfOrder.length > 0 &&
      `${count(log.folded.outOfOrder.length, 'entry', 'entries')} out of order, for review`,
  );
}

/** Moves beyond turning out with the matched driver, and the state of the screw that they answered. */
export function extraLines(log: Log, { attempts }: History): string[] {
  const extra = attempts.filter(({ move }) => move !== 'turn-out');
  if (!extra.length) return attempts.length ? ['no move beyond turning out with the matched driver was entered'] : [];
  return extra.map(
    ({ screw, move, from, stageBefore }) =>
      `${screwName(screw)} at ${log.when(from)}: ${log.content.phrases.moves[move].label}, because: ${log.content.phrases.stages[stageBefore].label.toLowerCase()}`,
  );
}

/** Bores move by move; the same bore made again by further moves is one line. */
export const tissueLines = ({ attempts }: History): string[] =>
  tally(
    attempts
      .filter(({ bores }) => bores.length > 0)
      .map(
        ({ screw, bores, boresEntered }) =>
          `bone bored at ${screwName(screw)}: ${list(bores.map(bore))}, ${boresEntered ? 'as entered' : 'as expected of the move, not measured'}`,
      ),
  );

export const bloodLines = (log: Log) =>
  log.of('blood-loss').map(({ ml, at }) => `${num(ml)} ml, entered at ${log.when(epoch(at))}`);
export const doseLines = (log: Log) =>
  log
    .of('antibiotic')
    .map(
      ({ drug, dose, at }) =>
        `${clean(drug)}, ${dose === undefined ? 'dose not recorded' : clean(dose)}, at ${log.when(epoch(at))}`,
    );

/** Spans of the tourniquet with their minutes. */
export function tourniquetLines(log: Log): string[] {
  const lines: string[] = [];
  const entries = log.of('tourniquet').sort((a, b) => a.n - b.n);
  const limit = num(log.folded.case.context.tourniquetLimit);
  entries.forEach((up, index) => {
    if (up.to !== 'up') return;
    const down = entries[index + 1];
    const last = log.inForce.at(-1);
    const pressure = up.pressure === undefined ? 'pressure not recorded' : `${num(up.pressure)} mmHg`;
    if (down) {
      const lasted = log.minutes(up, down);
      const past = lasted >= log.folded.case.context.tourniquetLimit ? `, at or past the limit of ${limit} min` : '';
      lines.push(
        `up ${log.when(epoch(up.at))}, down ${log.when(epoch(down.at))}, ${minutes(lasted)}${past}; ${pressure}`,
      );
    } else {
      lines.push(
        `up ${log.when(epoch(up.at))}, let-down not recorded, ${minutes(last ? log.minutes(up, last) : 0)} up to the last entry; ${pressure}`,
      );
    }
  });
  if (lines.length > 1) lines.push(`${minutes(log.view.clocks.tourniquetTotalMinutes)} in all; limit ${limit} min`);
  return lines;
}

/** Images and dose, added by unit. */
export function imageLines(log: Log): string[] {
  const entries = log.of('images');
  if (!entries.length) return [];
  const doses = new Map<string, number>();
  for (const { dose, doseUnit } of entries)
    if (dose !== undefined) {
      const unit = doseUnit === undefined ? '(unit not recorded)' : clean(doseUnit);
      doses.set(unit, (doses.get(unit) ?? 0) + dose);
    }
  const shots = entries.reduce((sum, entry) => sum + entry.shots, 0);
  const dose = [...doses].map(([unit, sum]) => `${num(sum)} ${unit}`);
  return [`${count(shots, 'image')}; dose ${dose.length ? list(dose) : 'not recorded'}`];
}

export const implantLines = (log: Log): string[] => {
  const of = (stage: string) =>
    Object.entries(log.view.screws)
      .filter(([, screw]) => screw.stage === stage)
      .map(([id]) => screwName(id));
  return some(
    of('out').length > 0 && `taken out: ${list([...of('out'), ...(log.of('plate-off').length ? ['the plate'] : [])])}`,
    of('left-in').length > 0 && `left in: ${list(of('left-in'))}`,
  );
};
