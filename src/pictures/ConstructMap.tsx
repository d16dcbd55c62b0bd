import { For, Show, createMemo, type JSX } from 'solid-js';
import { Dynamic } from 'solid-js/web';
import type { Stage, constructs } from '../../content/ids.ts';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { Mark } from '../parts/Marks.tsx';
import { Touch } from '../parts/Touch.tsx';
import { MapBar } from './MapBar.tsx';
import { ScrewGlyph } from './ScrewGlyph.tsx';
import { mapLayout, tilesBeside, tilesShown } from './map-layout.ts';

export interface MapScrew {
  id: string;
  stage: Stage;
  /** Stage in at most two short words, as it is read from afar. */
  word: string;
  /** Spoken name, such as "screw 3, head gone". */
  label: string;
}

export interface ConstructMapProps {
  construct: (typeof constructs)[number];
  /** In their true order along the metal. */
  screws: readonly MapScrew[];
  called: string | null;
  /** Room it is given, mm. */
  box: { width: number; height: number };
  /** The metal runs along a row, or down a column. */
  flow: 'row' | 'column';
  /** The whole drawing in words. */
  label: string;
  onCall: (screw: string) => void;
  /** When folded: the screw that is shown as a touch between the two that step; the called one, if left out. */
  shown?: string | null;
  onShow?: (screw: string) => void;
  words?: { previous: string; next: string };
  /** When folded: the whole metal is a touch that leads to all screws, and those that matter now are touches beside it. */
  all?: { label: string; onAct: () => void };
}

/**
 * The metal with its screws in their true order, each with its drawing, number and stage. Every screw is a touch of
 * 20 mm; where they have no room it folds: all drawings small in their order, and one touch with two that step.
 */
export function ConstructMap(props: ConstructMapProps) {
  const fold = createMemo(() => mapLayout(props.screws.length, props.box, props.flow));
  createLayoutGuard(() => `${fold()} ${props.screws.map((screw) => screw.id).join()}`);
  return (
    <div
      class="map"
      role="group"
      aria-label={props.label}
      data-flow={props.flow}
      data-folded={fold() === 'folded' ? '' : undefined}
    >
      <Show
        when={fold() !== 'folded'}
        fallback={
          <Show
            when={props.all}
            fallback={
              <>
                <Small {...props} />
                <Steps {...props} />
              </>
            }
          >
            {(all) => (
              <>
                <Touch size="small" class="map-all" onAct={() => all().onAct()}>
                  <span class="only-spoken">{all().label}</span>
                  <Small {...props} plain />
                </Touch>
                <Tiles {...props} />
              </>
            )}
          </Show>
        }
      >
        <Lines {...props} fold={fold() === 'one' ? 'one' : 'two'} cell="touch">
          {(screw) => <ScrewTile screw={screw} called={props.called === screw.id} onCall={props.onCall} />}
        </Lines>
      </Show>
    </div>
  );
}

/** All of the metal, each screw drawn small in its place. */
function Small(props: ConstructMapProps & { plain?: boolean }) {
  return (
    <Lines {...props} fold="two" cell="small">
      {(screw) => <Drawing screw={screw} called={props.called === screw.id} />}
    </Lines>
  );
}

/** Touches of the screws that matter now. */
function Tiles(props: ConstructMapProps) {
  const ids = createMemo(() =>
    tilesShown(props.screws, props.called, tilesBeside(props.screws.length, props.box, props.flow)),
  );
  createLayoutGuard(() => ids().join());
  return (
    <div class="map-tiles">
      <For each={props.screws.filter(({ id }) => ids().includes(id))}>
        {(screw) => <ScrewTile screw={screw} called={props.called === screw.id} onCall={props.onCall} />}
      </For>
    </div>
  );
}

interface LinesProps {
  construct: ConstructMapProps['construct'];
  screws: readonly MapScrew[];
  flow: 'row' | 'column';
  fold: 'one' | 'two';
  cell: 'small' | 'touch';
  /** Within a touch: one drawing, no list. */
  plain?: boolean;
  children: (screw: MapScrew) => JSX.Element;
}

/** Cells in one line beside the metal, or staggered on both sides of it. */
function Lines(props: LinesProps) {
  const cell = () => (props.plain ? 'span' : 'li');
  const place = (index: number) => (props.fold === 'one' ? `${index + 1}` : `${index + 1} / span 2`);
  return (
    <Dynamic component={props.plain ? 'span' : 'ol'} class="map-lines" data-fold={props.fold} data-cell={props.cell}>
      <Dynamic
        component={cell()}
        class="map-bar"
        aria-hidden="true"
        style={{
          [props.flow === 'row' ? 'grid-column' : 'grid-row']:
            `1 / span ${props.screws.length + (props.fold === 'two' ? 1 : 0)}`,
        }}
      >
        <MapBar
          construct={props.construct}
          count={props.screws.length}
          fold={props.fold}
          cell={props.cell}
          flow={props.flow}
        />
      </Dynamic>
      <For each={props.screws}>
        {(screw, index) => (
          <Dynamic
            component={cell()}
            data-side={props.fold === 'two' && index() % 2 === 1 ? 'far' : 'near'}
            style={{ [props.flow === 'row' ? 'grid-column' : 'grid-row']: place(index()) }}
          >
            {props.children(screw)}
          </Dynamic>
        )}
      </For>
    </Dynamic>
  );
}

function Drawing(props: { screw: MapScrew; called: boolean }) {
  return (
    <span class="map-drawing" role="img" aria-label={props.screw.label} data-called={props.called ? '' : undefined}>
      <b>{props.screw.id}</b>
      <ScrewGlyph stage={props.screw.stage} />
    </span>
  );
}

/** A screw as a touch: number, drawing, stage. */
export function ScrewTile(props: { screw: MapScrew; called: boolean; onCall: (screw: string) => void }) {
  return (
    <Touch
      size="small"
      class="map-touch"
      label={props.screw.label}
      current={props.called}
      onAct={() => props.onCall(props.screw.id)}
    >
      <b>{props.screw.id}</b> <ScrewGlyph stage={props.screw.stage} /> <span class="map-word">{props.screw.word}</span>
    </Touch>
  );
}

function Steps(props: ConstructMapProps) {
  const index = () =>
    Math.max(
      0,
      props.screws.findIndex((screw) => screw.id === (props.shown ?? props.called)),
    );
  const at = (by: number) => props.screws[index() + by];
  const show = (screw: MapScrew | undefined) => {
    if (screw) props.onShow?.(screw.id);
  };
  return (
    <div class="map-steps">
      <Touch
        size="small"
        quick
        label={props.words?.previous ?? ''}
        onAct={() => show(at(-1))}
        closed={at(-1) ? undefined : ''}
      >
        <Mark sign="previous" />
      </Touch>
      <Show when={at(0)}>
        {(screw) => <ScrewTile screw={screw()} called={screw().id === props.called} onCall={props.onCall} />}
      </Show>
      <Touch
        size="small"
        quick
        label={props.words?.next ?? ''}
        onAct={() => show(at(1))}
        closed={at(1) ? undefined : ''}
      >
        <Mark sign="next" />
      </Touch>
    </div>
  );
}
