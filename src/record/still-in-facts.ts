/** What is still in the body by the log, piece by piece. */
import { isAnythingUnaccounted, isScrewAccounted } from '../../machines/compute/metal.ts';
import { boneAt } from '../../machines/compute/bone-cost.ts';
import { fragmentPlace } from '../../machines/compute/fragment.ts';
import type { EntryOf } from '../../machines/entry.ts';
import { isWorking, type ScrewContext } from '../../machines/screw.context.ts';
import { epoch } from '../../machines/time.ts';
import type { History } from './history.ts';
import type { Log } from './log.ts';
import type { StillIn } from './model.ts';
import { screwName } from './narrative-moves.ts';
import { mm, said, toolLabel, yesNo } from './words.ts';

const whole = {
  seated: 'the whole screw',
  'recess-stripped': 'the whole screw, its recess stripped',
  'head-sheared': 'the shank; the head is gone',
  'fragment-retained': 'a broken piece lying deep',
  out: 'a piece',
  'left-in': 'a piece',
} as const;

const nobody = {
  where: 'not recorded',
  why: 'not recorded',
  image: 'not recorded',
  decidedBy: 'not recorded',
  told: 'not recorded',
};

const materialOf = (context: ScrewContext) =>
  context.facts.material === 'unknown' ? 'not known (entered as unknown)' : context.facts.material;

/** Where a broken screw is reckoned to lie, from lengths alone; null when a figure is missing. */
function placeOf(log: Log, context: ScrewContext): string | null {
  const bone = boneAt(log.content, log.folded.case.context.room, context.id);
  const place = fragmentPlace({
    length: context.facts.length,
    nearSurface: context.found.nearSurface ?? null,
    recovered: context.pieces.reduce((sum, piece) => sum + piece, 0),
    outer: bone?.outer ?? null,
    cortex: bone?.cortex ?? null,
  });
  if (!place || place.left <= 0) return null;
  const parts = [
    [place.proudNear, 'above the near cortex'],
    [place.inNearWall, 'in the near wall'],
    [place.inCanal, 'in the canal'],
    [place.inFarWall, 'in the far wall'],
    [place.proudBeyond, 'beyond the far cortex'],
  ] as const;
  const words = parts.filter(([length]) => length > 0.005).map(([length, where]) => `${mm(length)} ${where}`);
  return words.length ? `${words.join(', ')} (estimate from lengths alone, bone ${bone?.source})` : null;
}

function screwSize(context: ScrewContext, length: number | null, measured: boolean): string {
  const long =
    length === null
      ? 'length not known'
      : measured
        ? `${mm(length)} long`
        : `about ${mm(length)} long (by the account, not measured)`;
  return `${mm(context.facts.diameter)} diameter, ${long}`;
}

function leftPiece(log: Log, history: History, entry: EntryOf<'left-in'>): StillIn {
  const told = entry.toldTo === undefined ? 'not recorded' : said(entry.toldTo);
  const words = {
    where: said(entry.where),
    why: said(entry.reason),
    image: yesNo(entry.imageTaken),
    decidedBy: said(entry.decidedBy),
    told,
  };
  const common = {
    kind: 'left' as const,
    entry: entry.n,
    at: epoch(entry.at),
    measured: entry.length !== null,
    ...words,
  };
  if (entry.screw === undefined) {
    const tool = entry.tool ?? null;
    return {
      ...common,
      screw: null,
      tool,
      length: entry.length,
      what: `a broken piece of the ${tool ? toolLabel(log.content, tool) : 'tool'}`,
      material: 'metal of a tool, not recorded which; tool steel may be ferromagnetic (from memory)',
      size: entry.length === null ? 'not measured' : `${mm(entry.length)} long`,
      place: null,
    };
  }
  const context = log.folded.screws.get(entry.screw)?.context as ScrewContext;
  const { left } = log.view.screws[entry.screw]?.metal ?? { left: 0 };
  const length = entry.length ?? (context.facts.length === null ? null : left);
  const stage = history.leftFrom.get(entry.screw) ?? 'seated';
  return {
    ...common,
    screw: entry.screw,
    tool: null,
    length,
    what: `${screwName(entry.screw)}: ${whole[stage]}`,
    material: materialOf(context),
    size: screwSize(context, length, entry.length !== null),
    place: stage === 'seated' || stage === 'recess-stripped' ? null : placeOf(log, context),
  };
}

function openScrew(log: Log, context: ScrewContext): StillIn {
  const account = log.view.screws[context.id]?.metal;
  const ended = !isWorking(context.stage);
  const open = account?.unaccounted ?? null;
  const length = open === null || ended ? open : Math.max(0, open);
  const missing =
    ended && length !== null
      ? `${mm(Math.abs(length))} ${length < 0 ? 'more came out than was listed' : 'not accounted for'}`
      : null;
  return {
    ...nobody,
    kind: ended ? 'unaccounted' : 'not-ended',
    screw: context.id,
    tool: null,
    entry: null,
    at: null,
    length,
    measured: false,
    what: ended
      ? `${screwName(context.id)}: its lengths do not add up, ${missing}`
      : `${screwName(context.id)}: ${whole[context.stage]}; neither out nor entered as left in`,
    material: materialOf(context),
    size: missing === null ? screwSize(context, length, false) : `${mm(context.facts.diameter)} diameter, ${missing}`,
    place: ended
      ? null
      : context.stage === 'head-sheared' || context.stage === 'fragment-retained'
        ? placeOf(log, context)
        : null,
  };
}

/** Tools of which a broken tip is not accounted for. */
export function openTips(log: Log) {
  const { tips, tipPieces, tipsLeft } = log.folded.case.context;
  const { pieceTolerance } = log.content.limits;
  return [...new Set(tips.map(({ tool }) => tool))].filter((tool) => {
    const of = <T extends { tool: string }>(items: readonly T[]) => items.filter((item) => item.tool === tool);
    return isAnythingUnaccounted(
      [],
      { tips: of(tips), tipPieces: of(tipPieces), tipsLeft: of(tipsLeft) },
      pieceTolerance.value,
    );
  });
}

/** Left on purpose first, in order of time; then what nobody decided on; then what does not add up. */
export function stillInOf(log: Log, history: History): StillIn[] {
  const contexts = [...log.folded.screws.values()].map(({ context }) => context);
  const { pieceTolerance } = log.content.limits;
  const working = contexts.filter(({ stage }) => isWorking(stage));
  const unbalanced = contexts.filter(
    (context) => !isWorking(context.stage) && !isScrewAccounted(context, pieceTolerance.value),
  );
  const tips = openTips(log).map((tool): StillIn => {
    const account = log.view.toolTips.filter((tip) => tip.tool === tool && tip.unaccounted !== 0);
    const length = account.some(({ unaccounted }) => unaccounted === null)
      ? null
      : account.reduce((sum, { unaccounted }) => sum + (unaccounted ?? 0), 0);
    return {
      ...nobody,
      kind: 'unaccounted',
      screw: null,
      tool,
      entry: account[0]?.entry ?? null,
      at: null,
      length,
      measured: false,
      what: `the tip of the ${toolLabel(log.content, tool)}: broken and not accounted for`,
      material: 'metal of a tool, not recorded which; tool steel may be ferromagnetic (from memory)',
      size: length === null ? 'length not known' : `${mm(Math.abs(length))} not accounted for`,
      place: null,
    };
  });
  return [
    ...log.of('left-in').map((entry) => leftPiece(log, history, entry)),
    ...working.map((context) => openScrew(log, context)),
    ...unbalanced.map((context) => openScrew(log, context)),
    ...tips,
  ];
}
