/** What is asked once a move has ended: one touch each, none of them in the way of the next move. */
import { headPlaces, type ToolId } from '../../../content/ids.ts';
import { moveOf } from '../../../content/moves.ts';
import type { Bore, EntryDraft } from '../../../machines/entry.ts';
import type { Folded } from '../../../machines/folded.ts';
import { attemptsOf, rowsOf, type Attempt } from '../../../machines/trace.ts';
import { millimetres } from '../../format/figures.ts';
import type { Messages } from '../../format/messages.ts';
import { entering, liftAsk, tipAsk } from './case-asks.ts';
import './second-style.ts';
import type { Ask } from './taken-up.ts';

export { cardMarks, deferMark, oneLine, stageNotes } from './marks.ts';

/** Two entries that cannot both be true: both stories, and what may be wrong with each, stand on a sheet. */
function conflictAsk({ conflicts: [first] }: Folded, w: Messages): Ask | null {
  if (!first) return null;
  return {
    key: `conflict ${first.entries.join(' ')}`,
    title: w('ask.conflict', { screw: first.screw }),
    options: [{ label: w('ask.conflict.look'), act: (table) => table.setPanel({ kind: 'sheet', sheet: 'conflict' }) }],
  };
}

/** The move that ended last, if somebody told its end; null once another one was begun. */
function lastEnded(folded: Folded): Attempt | null {
  const last = attemptsOf(folded.trace).at(-1);
  return last?.end?.type === 'move-ended' ? last : null;
}

/** Of one wall alone, each bore once. */
const nearOnly = (bores: readonly Bore[]): Bore[] =>
  bores.flatMap((bore) => (bore.wall === 'far' ? [] : [{ ...bore, wall: 'near' as const }]));

function lengthAsk(folded: Folded, w: Messages): Ask | null {
  for (const [screw, { context }] of folded.screws) {
    if (context.lengthAsked === null) continue;
    const missing = (context.facts.length ?? 0) - context.pieces.reduce((sum, length) => sum + length, 0);
    const answer = (label: string, answer: 'broke' | 'listed-wrong' | 'lost', reachable?: boolean) =>
      entering(w(`ask.length.${label}`), {
        ...({ type: 'length-answered', screw, answer } as const),
        ...(reachable !== undefined && { reachable }),
      });
    return {
      key: `length ${context.lengthAsked.n}`,
      title: w('ask.length', { screw, mm: millimetres(missing) }),
      options: [
        answer('broke-reachable', 'broke', true),
        answer('broke-deep', 'broke', false),
        answer('listed-wrong', 'listed-wrong'),
        answer('lost', 'lost'),
      ],
    };
  }
  return null;
}

/** The question that is open now, the most pressing first; null when none is. The next move puts it off. */
export function askOf(folded: Folded, w: Messages): Ask | null {
  return (
    lengthAsk(folded, w) ?? liftAsk(folded, w) ?? tipAsk(folded, w) ?? moveAsk(folded, w) ?? conflictAsk(folded, w)
  );
}

/** What is asked of the move that ended last. */
function moveAsk(folded: Folded, w: Messages): Ask | null {
  const attempt = lastEnded(folded);
  if (!attempt?.end || attempt.end.type !== 'move-ended' || folded.format < 2) return null;
  const { screw, end } = attempt;
  const { n } = end;
  const answered = rowsOf(folded.trace).flatMap(({ entry, heard }) =>
    heard && entry.type === 'move-answered' && (entry.of === n || entry.of === attempt.start.n) ? [entry] : [],
  );
  const said = (field: 'head' | 'recess' | 'bores') =>
    end[field] !== undefined || answered.some((entry) => entry[field] !== undefined);
  const context = folded.screws.get(screw)?.context;
  const headOff =
    context?.breaks.some((one) => one.n === n && (one.what === 'head' || one.what === 'drilled')) ?? false;
  const asks: (Ask | null)[] = [
    headOff && context?.head === null && !said('head')
      ? {
          key: `head ${n}`,
          title: w('ask.head', { screw }),
          options: headPlaces.map((head) => entering(w(`ask.head.${head}`), { type: 'move-answered', of: n, head })),
        }
      : null,
    brokenTip(folded, attempt, w),
    end.outcome === 'slipped' && moveOf(folded.content, attempt.move).turnsInRecess && !said('recess')
      ? {
          key: `recess ${n}`,
          title: w('ask.recess', { screw }),
          options: (['damaged', 'sound', 'not-seen'] as const).map((recess) =>
            entering(w(`ask.recess.${recess}`), { type: 'move-answered', of: n, recess }),
          ),
        }
      : null,
    attempt.bores.length > 0 && !attempt.boresEntered && !said('bores')
      ? {
          key: `bores ${n}`,
          title: w('ask.bores'),
          options: [
            entering(w('ask.bores.planned'), { type: 'move-answered', of: n, bores: [...attempt.bores] }),
            entering(w('ask.bores.near'), { type: 'move-answered', of: n, bores: nearOnly(attempt.bores) }),
            entering(w('ask.bores.none'), { type: 'move-answered', of: n, bores: [] }),
          ],
        }
      : null,
  ];
  return asks.find((ask) => ask !== null) ?? null;
}

/** After a tool broke: is its tip missing? Asked here where the tool was named; else it is told with the tool. */
function brokenTip(folded: Folded, { tool, end, screw }: Attempt, w: Messages): Ask | null {
  if (end?.type !== 'move-ended' || end.outcome !== 'tool-broke' || tool === undefined) return null;
  const { tips, tipsAnswered } = folded.case.context;
  const told = tips.every((tip) => !tip.presumed || tip.tool !== tool || tipsAnswered.includes(tip.entry));
  if (told) return null;
  const draft = (how: string, tipMissing: boolean, of: ToolId = tool): EntryDraft => ({
    ...({ type: 'tool-damaged', tool: of, how, tipMissing } as const),
  });
  return {
    key: `tip ${end.n} ${screw}`,
    title: w('ask.tip'),
    options: [
      entering(w('ask.tip.missing'), draft(w('tool.how.tip'), true)),
      entering(w('ask.tip.whole'), draft(w('tool.how.broken'), false)),
    ],
  };
}
