/** Sections on the screws, the account of the metal, and the bone. */
import { boneAt, ownHole, sectionOf } from '../../machines/compute/bone-cost.ts';
import { isScrewAccounted } from '../../machines/compute/metal.ts';
import type { BoneSection } from '../../machines/compute/ring.ts';
import type { ScrewContext } from '../../machines/screw.context.ts';
import { epoch } from '../../machines/time.ts';
import { citeOf } from './items.ts';
import type { Log } from './log.ts';
import {
  notRecorded,
  recorded,
  type Block,
  type RecordFacts,
  type ScrewFate,
  type Section,
  type StillIn,
} from './model.ts';
import { outcomeWords, screwName } from './narrative-moves.ts';
import { openTips } from './still-in-facts.ts';
import {
  bore,
  clean,
  count,
  list,
  minutes,
  mm,
  num,
  percent,
  roleWord,
  sentence,
  some,
  tally,
  toolLabel,
  yesNo,
} from './words.ts';

const text = (line: string): Block => ({ kind: 'text', text: line });
const items = (...lines: string[]): Block => ({ kind: 'list', items: lines });
const heading = (line: string): Block => ({ kind: 'heading', text: line });

/** One still-in piece as labelled lines. */
const pieceLines = (piece: StillIn): string[] =>
  some(
    `Material: ${piece.material}`,
    `Size: ${piece.size}`,
    `Where: ${piece.where}`,
    piece.place !== null && `Lies by estimate: ${piece.place}`,
    `Why it stays: ${piece.why}`,
    `Image: ${piece.image}`,
    `Decided by: ${piece.decidedBy}`,
    `Told to: ${piece.told}`,
  );

export function staysInSection(log: Log, { stillIn: pieces, holder }: RecordFacts): Section {
  const blocks: Block[] = pieces.flatMap((piece) => [
    heading(`${sentence(piece.what).slice(0, -1)}${piece.entry === null ? '' : ` (entry ${piece.entry})`}`),
    items(...pieceLines(piece)),
  ]);
  if (!pieces.length)
    blocks.push(
      text(
        log.folded.screws.size
          ? 'Every listed screw is out and accounted for by the log. No piece is entered as left in.'
          : 'No screw was listed and no piece was entered as left in: not recorded.',
      ),
    );
  else blocks.push(text('MR status of anything left in is not assessed here. Tell the MRI team before any scan.'));
  if (holder)
    blocks.push({
      kind: 'item',
      id: 'holder',
      label: `The ${holder.what}`,
      value: holder.off === null ? notRecorded : recorded(`taken off at ${holder.off}`),
    });
  return { id: 'stays-in', title: 'What stays in', blocks };
}

export function screwsSection(log: Log, fates: readonly ScrewFate[]): Section {
  const { phrases } = log.content;
  const blocks = fates.flatMap((fate): Block[] => {
    const end = sentence(`${screwName(fate.id)}: ${phrases.stages[fate.stage].label.toLowerCase()}`).slice(0, -1);
    const tries = fate.attempts.map((attempt) => {
      const how = attempt.outcome
        ? outcomeWords(log.content, fate.id, attempt.outcome, attempt)
        : attempt.endedBy === null
          ? 'not ended in the log'
          : `nobody entered how it ended; ended by entry ${attempt.endedBy}`;
      const took =
        attempt.to === null
          ? ''
          : `, ended ${log.when(attempt.to)}${attempt.minutes === null ? '' : ` (${minutes(attempt.minutes)})`}`;
      const fell =
        attempt.stageAfter === attempt.stageBefore
          ? ''
          : `; then: ${phrases.stages[attempt.stageAfter].label.toLowerCase()}`;
      return `${log.when(attempt.from)} ${phrases.moves[attempt.move].label}${took}: ${how}${fell}`;
    });
    const slips = fate.slips ? `; ${count(fate.slips, 'slip')} in the recess` : '';
    return [
      heading(end),
      text(sentence(`${fate.description}${slips}`)),
      tries.length ? items(...tries) : text('No move was entered.'),
    ];
  });
  return {
    id: 'screws',
    title: 'Screw by screw',
    blocks: blocks.length ? blocks : [text('No screw was listed: not recorded.')],
  };
}

export function metalSection(log: Log): Section {
  const tolerance = log.content.limits.pieceTolerance;
  const screws = [...log.folded.screws.values()].map(({ context }) => {
    const account = log.view.screws[context.id]?.metal;
    const long = (length: number | null | undefined) =>
      length === null || length === undefined ? 'not known' : mm(length);
    return `${sentence(screwName(context.id)).slice(0, -1)}: listed ${long(account?.listed)}, recovered ${long(account?.recovered)}, left ${long(account?.left)}, unaccounted ${long(account?.unaccounted)}; ${isScrewAccounted(context, tolerance.value) ? 'accounted for' : 'NOT ACCOUNTED FOR'}${account?.assumed ? '; a rest that came out or stayed in unmeasured is assumed' : ''}`;
  });
  const open = openTips(log);
  const tips = log.view.toolTips.map((tip) => {
    const long = (length: number | null) => (length === null ? 'not known' : mm(length));
    return `Tip of the ${toolLabel(log.content, tip.tool)} (entry ${tip.entry}): length ${long(tip.listed)}, recovered ${long(tip.recovered)}, left ${long(tip.left)}, unaccounted ${long(tip.unaccounted)}${open.includes(tip.tool) ? '; NOT ACCOUNTED FOR' : '; accounted for'}`;
  });
  const counts = log
    .of('count-answered')
    .map((entry) =>
      sentence(
        some(
          `${log.when(epoch(entry.at))} by ${list([...new Set(entry.by)].map((role) => roleWord[role]))}`,
          `discrepancy: ${entry.discrepancy === undefined ? 'not recorded' : clean(entry.discrepancy)}`,
          `image: ${yesNo(entry.imageTaken)}`,
        ).join('; '),
      ),
    );
  return {
    id: 'metal',
    title: 'Account of the metal',
    blocks: [
      screws.length ? items(...screws) : text('No screw was listed: not recorded.'),
      tips.length ? items(...tips) : text('No broken tool tip was entered.'),
      text(
        `Tolerance: ${mm(tolerance.value)} for each measured piece, at least ${mm(tolerance.value)}${citeOf(log, tolerance.source)}. This is not the official count of swabs and instruments.`,
      ),
      {
        kind: 'item',
        id: 'counts',
        label: 'Account answered',
        value: counts.length ? { state: 'recorded', lines: counts } : { state: 'not-recorded' },
      },
    ],
  };
}

/** Figures with the screw's own hole alone, and after all that was made. */
function figures(before: BoneSection, after: BoneSection): string[] {
  const torsion = ({ torsionKept, torsionBand: [low, high], torsionTested }: BoneSection) =>
    `${percent(torsionKept)} (${percent(low)} to ${percent(high)}${torsionTested ? '' : '; beyond the tested range'})`;
  const both = (label: string, own: string, made: string) =>
    `${label}: ${own} with the screw's own hole, ${own === made ? 'the same' : made} after all that was made`;
  return [
    both('Cortical ring lost', percent(before.cortexLost), percent(after.cortexLost)),
    both('Bending strength kept in the weakest direction', percent(before.bendingKept), percent(after.bendingKept)),
    both('Torsional strength kept (a scale of its own)', torsion(before), torsion(after)),
  ];
}

function boneLines(log: Log, context: ScrewContext, entered: boolean): string[] {
  const { room } = log.folded.case.context;
  const bone = boneAt(log.content, room, context.id);
  const made = context.bores.length
    ? `Bores besides the screw's own hole of ${mm(context.facts.diameter)}: ${list(tally(context.bores.map(bore)))}${entered ? '' : ' (as expected of the moves, not measured)'}`
    : `No bore was entered or expected besides the screw's own hole of ${mm(context.facts.diameter)}`;
  if (!bone) return ['Bone at this level: not recorded, so no figure', made];
  const known = room.boneAt[context.id] ?? room.bone;
  const source = known ? known.source : 'assumed from the name of the bone, from memory';
  const size = `Bone at this level: outer diameter ${mm(bone.outer)}, cortex ${mm(bone.cortex)}, ${source}`;
  const before = sectionOf(log.content, bone, [ownHole(context.facts)]);
  const after = sectionOf(log.content, bone, [ownHole(context.facts), ...context.bores]);
  if (!before || !after) return [size, made, 'A bore as wide as the bone: no figure'];
  const { boneConsider, boneStop } = room.limits;
  const reached =
    after.cortexLost >= boneStop
      ? `the upper limit of ${percent(boneStop)}`
      : after.cortexLost >= boneConsider
        ? `the lower limit of ${percent(boneConsider)}`
        : null;
  return some(
    size,
    made,
    ...figures(before, after),
    reached !== null && `The loss reaches ${reached}`,
    after.openSection && 'A slot longer than the bone is wide: reckon with an open section in torsion',
  );
}

export function boneSection(log: Log, fates: readonly ScrewFate[]): Section {
  const blocks = fates.flatMap((fate): Block[] => {
    const context = log.folded.screws.get(fate.id)?.context;
    const entered = fate.attempts.every(({ bores, boresEntered }) => !bores.length || boresEntered);
    return context
      ? [heading(sentence(screwName(fate.id)).slice(0, -1)), items(...boneLines(log, context, entered))]
      : [];
  });
  const { torsionRate, torsionTestedTo, boneStop } = log.content.limits;
  return {
    id: 'bone',
    title: 'Bone lost and strength, estimated',
    blocks: [
      ...(blocks.length ? blocks : [text('No screw was listed: not recorded.')]),
      text(
        `All figures are estimates. Ring and bending: plane geometry of a hollow cylinder. Torsion: exp(-${num(torsionRate.value)} d/D)${citeOf(log, torsionRate.source)}; tested to ${num(torsionTestedTo.value)} of the diameter${citeOf(log, torsionTestedTo.source)}. Limits${citeOf(log, boneStop.source)} are prompts.`,
      ),
    ],
  };
}
