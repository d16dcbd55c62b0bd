import { drawnDiameter } from '../../pictures/screw-shape.ts';
import { Show, createMemo, untrack } from 'solid-js';
import { boneAt, boneCost, ownHole, projected } from '../../../machines/compute/bone-cost.ts';
import { isPlateOn, type Room } from '../../../machines/case.context.ts';
import { isWorking, type ScrewContext } from '../../../machines/screw.context.ts';
import type { Content } from '../../../content/types.ts';
import type { AnyMoveId } from '../../../content/ids.ts';
import { bare, millimetres, percent } from '../../format/figures.ts';
import { Mark } from '../../parts/Marks.tsx';
import { BoneSection } from '../../pictures/BoneSection.tsx';
import { ScrewSide } from '../../pictures/ScrewSide.tsx';
import { drawnPlate } from '../../pictures/side-geometry.ts';
import { Drawn } from './Drawn.tsx';
import type { Table } from './state.ts';
import { useApp } from '../app.ts';

/** The move whose cost is pictured: the one asked about, about to start, or running. */
const picturedMove = (table: Table): AnyMoveId | null => {
  const panel = table.panel();
  return panel.kind === 'move' ? panel.move : (table.pending() ?? table.screw()?.move ?? null);
};

/**
 * Bone, bores and figures at the called screw's level; null without a screw or a bone. Another value only when what is
 * drawn is another: an entry that tells of something else draws nothing anew.
 */
export function createLevel(table: Table) {
  const room = createMemo(() => table.app.open()?.folded.case.context.room);
  const move = createMemo(() => picturedMove(table));
  const level = createMemo(
    () => {
      const [inRoom, screw, content] = [room(), table.context(), table.app.content()];
      return inRoom && screw ? levelOf(table, content, inRoom, screw, move()) : null;
    },
    null,
    { equals: (before, now) => JSON.stringify(before) === JSON.stringify(now) },
  );
  return level;
}

function levelOf(table: Table, content: Content, room: Room, screw: ScrewContext, move: AnyMoveId | null) {
  if (!isWorking(screw.stage)) return null;
  const bone = boneAt(content, room, screw.id);
  const { diameter } = screw.facts;
  if (!bone || diameter === null) return null;
  const made = [ownHole({ ...screw.facts, diameter }), ...screw.bores];
  const would = move ? projected(content, table.moveOf(move), screw.stage, screw.facts, room.tools).bores : [];
  const cost = boneCost(content, room, screw, table.moveOf(move ?? 'leave-in'));
  const { id, stage, facts, found, pieces, bores } = screw;
  const drawn = { id, stage, facts, found, pieces, bores };
  const plate = isPlateOn(room) && facts.underPlate !== false;
  return { bone, plate, screw: drawn, made, would, cost, after: [...made, ...would], limits: room.limits };
}

export type Level = NonNullable<ReturnType<typeof levelOf>>;

/** The screw from the side, and the bone in section, as they are now and as the move in question would leave them. */
export function Pictures(props: { table: Table }) {
  const { w, content } = useApp();
  const level = createLevel(untrack(() => props.table));
  const unmeasured = () => {
    const screw = props.table.context();
    return screw !== null && isWorking(screw.stage);
  };
  const atWork = () => picturedMove(props.table);
  return (
    <Show
      when={level()}
      fallback={
        <Show when={unmeasured()}>
          <p class="soft">{w('pictures.no-bone')}</p>
        </Show>
      }
    >
      {(at) => (
        <div class="pictures" data-at-work={atWork() ? '' : undefined}>
          <Show when={atWork()}>
            {(move) => (
              <div class="at-work">
                <Drawn table={props.table} move={move()} />
              </div>
            )}
          </Show>
          <Side table={props.table} level={at()} />
          <Section table={props.table} level={at()} label={content().phrases.stages[at().screw.stage].label} />
          <Figures level={at()} />
        </div>
      )}
    </Show>
  );
}

/** The section alone, for a place beside the stage. */
export function StageSection(props: { table: Table }) {
  const { content } = useApp();
  const level = createLevel(untrack(() => props.table));
  return (
    <Show when={level()}>
      {(at) => (
        <div class="stage-section">
          <Section table={props.table} level={at()} label={content().phrases.stages[at().screw.stage].label} />
        </div>
      )}
    </Show>
  );
}

/** What the drawings show, in figures. */
function Figures(props: { level: Level }) {
  const { w } = useApp();
  const figures = () => props.level.cost.figures;
  const changes = () => (figures().cortexLost ?? 0) - (figures().cortexLostBefore ?? 0) > 1e-9;
  return (
    <dl class="level-figures">
      <dt>{w('card.lost')}</dt>
      <dd class="figure">
        <Show when={changes()}>
          {bare(figures().cortexLostBefore)} <Mark sign="becomes" label={w('card.to')} />{' '}
        </Show>
        {percent(figures().cortexLost)}
      </dd>
      <dt>{w('card.bends')}</dt>
      <dd class="figure">{percent(figures().bendingKept)}</dd>
      <Show when={props.level.bone.source === 'assumed'}>
        <dt>{w('pictures.assumed')}</dt>
      </Show>
    </dl>
  );
}

/** The called screw from the side. */
export function Side(props: { table: Table; level: Level }) {
  const { w, content } = useApp();
  const screw = () => props.level.screw;
  const out = () => screw().pieces.reduce((sum, piece) => sum + piece, 0);
  const metal = () => props.table.screw()?.metal;
  const left = () => {
    // What stays because the work was stopped is in all the same.
    const now = metal();
    const rest = now?.closes === 'assumed' ? now.listed : now?.unaccounted;
    if (rest === null || rest === undefined) return undefined;
    // Of a broken screw the near piece may be out and not yet measured.
    const unmeasured = screw().stage === 'fragment-retained' && screw().pieces.length === 0;
    return w(unmeasured ? 'pictures.still-in-most' : 'pictures.still-in', { length: millimetres(rest) });
  };
  const turning = () => {
    const move = picturedMove(props.table);
    return move && props.table.moveOf(move).turn === 'anticlockwise' ? w('card.anticlockwise') : undefined;
  };
  return (
    <ScrewSide
      stage={screw().stage}
      diameter={drawnDiameter(screw().facts)}
      length={screw().facts.length}
      cortices={screw().facts.cortices}
      bone={{
        outer: props.level.bone.outer,
        cortex: props.level.bone.cortex,
        assumed: props.level.bone.source === 'assumed',
      }}
      plate={props.level.plate ? drawnPlate(drawnDiameter(screw().facts)) : undefined}
      nearSurface={screw().found.nearSurface}
      out={out()}
      pieceLength={screw().found.fragmentLength}
      made={screw().bores}
      would={props.level.would.length ? props.level.would : undefined}
      turn={turning()}
      notes={{
        out: out() > 0 ? w('pictures.out', { length: millimetres(out()) }) : undefined,
        in: left(),
        would: props.level.would[0]
          ? w('pictures.would', { diameter: millimetres(props.level.would[0].diameter) })
          : undefined,
      }}
      label={w('pictures.side', { screw: screw().id, stage: content().phrases.stages[screw().stage].label })}
    />
  );
}

/** The bone cut across at the called screw. */
export function Section(props: { table: Table; level: Level; label: string; plain?: boolean }) {
  const { w } = useApp();
  const figures = () => props.level.cost.figures;
  const after = () => props.level.cost.after;
  const words = () => ({
    lost: w('card.lost'),
    limit: w('pictures.limit'),
    bends: w('card.bends'),
    twists: w('pictures.twists'),
    becomes: w('card.to'),
  });
  const band = () => after()?.torsionBand;
  return (
    <BoneSection
      outer={props.level.bone.outer}
      cortex={props.level.bone.cortex}
      before={props.level.made}
      after={props.level.after}
      cortexLostBefore={figures().cortexLostBefore}
      cortexLost={figures().cortexLost}
      bendingKept={figures().bendingKept}
      torsionKept={figures().torsionKept}
      {...(band() && !props.plain && { torsionBand: band() })}
      beyondTested={figures().torsionTested === false && !props.plain ? w('pictures.beyond') : undefined}
      assumed={props.level.bone.source === 'assumed' ? w('pictures.assumed') : undefined}
      limits={{ consider: props.level.limits.boneConsider, stop: props.level.limits.boneStop }}
      words={words()}
      plain={props.plain ?? true}
      label={w('pictures.section', {
        before: percent(figures().cortexLostBefore),
        after: percent(figures().cortexLost),
      })}
    />
  );
}
