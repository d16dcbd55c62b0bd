/** The operation as a whole, as other systems ask for it. */
import { rowOf } from '../../machines/trace.ts';
import { semicolons } from '../format/prose.ts';
import type { History } from './history.ts';
import { written } from './items.ts';
import { complicationLines, outLine } from './items-log.ts';
import type { RecordLog } from './log.ts';
import type { OperationFacts } from './model.ts';
import { tell } from './narrative.ts';

const linesWritten = (log: RecordLog, field: 'procedure' | 'complications'): string[] => {
  const value = written(log, field);
  return value.state === 'recorded' ? value.lines : [];
};

/** Words that name no complication, in any language: none was seen, or it stands elsewhere. */
const namesNone = new Set(
  [
    ...['none', 'none seen', 'none noted', 'no', 'nil', 'no complications', 'no problems', 'see timeline', '-'],
    ...['keine', 'keine gesehen', 'keine komplikationen', 'keine probleme', 'nein', 'siehe verlauf'],
  ].map((words) => words.toLowerCase()),
);

/** What the team wrote of complications, without what says that there were none. */
const writtenComplications = (log: RecordLog): string[] =>
  log
    .of('note-field')
    .flatMap(({ field, text }) =>
      field === 'complications' && text !== undefined ? text.split(/[;\n]/).map((one) => log.locale.clean(one)) : [],
    )
    .filter((text) => text !== log.locale.clean('') && !namesNone.has(text.toLowerCase().replace(/[.!]+$/, '')));

function stoppedBecause({ folded, locale }: RecordLog): string | null {
  const { stopped } = folded.case.context;
  if (stopped === null) return null;
  const reason = stopped.reason === undefined ? locale.forms.fhir.noReason : locale.entries.stops[stopped.reason];
  return semicolons(reason, stopped.text !== undefined && locale.clean(stopped.text));
}

/** What the log tells of the operation. */
export function operationOf(log: RecordLog, history: History): OperationFacts {
  const { opened, content, locale, view } = log;
  const began = log.of('work-started')[0];
  const ended = log.of('work-ended').at(-1);
  return {
    phase: view.phase,
    purpose: opened ? (opened.purpose ?? 'removal') : null,
    began: began ? log.at(began) : null,
    ended: ended ? log.at(ended) : null,
    stopped: stoppedBecause(log),
    metal: outLine(log),
    complications: [...writtenComplications(log), ...complicationLines(log, history)],
    written: linesWritten(log, 'procedure'),
    partMoves: log.of('part-move').map((entry) => {
      const row = rowOf(log.folded.trace, entry.n);
      return {
        n: entry.n,
        part: entry.part,
        move: locale.entries.partMoves[entry.move],
        tool: entry.tool ?? null,
        outcome: entry.outcome ?? null,
        at: log.at(entry),
        sentence: row ? tell(row, content, log.zone) : locale.notRecorded,
      };
    }),
  };
}
