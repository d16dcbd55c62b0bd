import { For, Match, Show, Switch, createSignal } from 'solid-js';
import type { PartMove, ToolId } from '../../../content/ids.ts';
import { partAccounts, type PartAccount } from '../../../machines/compute/parts.ts';
import { drivesPart } from '../../../machines/dispatch.ts';
import type { EntryDraft, EntryOf } from '../../../machines/entry.ts';
import { isWorking } from '../../../machines/screw.context.ts';
import { secondOf } from '../../../machines/second-ladder.ts';
import { Group } from '../../parts/Choice.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { partName, partState } from '../part-words.ts';
import { StillFixed } from './StillFixed.tsx';
import type { Table } from './state.ts';

type Outcome = NonNullable<EntryOf<'part-move'>['outcome']>;

/** What is done on a plate, a nail, its cap; every other part is only said to be out. */
const movesOf: Partial<Record<PartAccount['kind'], readonly PartMove[]>> = {
  plate: ['lift', 'lever-plate'],
  nail: ['seat-extractor', 'hammer-nail', 'hook-from-below'],
  'end-cap': ['cap-off'],
};
const outcomes: readonly Outcome[] = ['out', 'moving', 'no-change', 'tool-broke', 'bone-broke'];
/** The cap of a nail that nobody has listed. */
const cap: PartAccount = {
  ...{ id: 'end-cap', kind: 'end-cap', what: null, length: null, end: null, pieces: 1 },
  ...{ closes: null, off: null, putIn: null },
};

/** Plate, nail and every other part: what was done on it and how that ended, and that it is out. */
export function PartsSheet(props: { table: Table }) {
  const { w, open, content } = useApp();
  const [on, setOn] = createSignal<{ part: PartAccount; move: PartMove } | null>(null);
  const [broke, setBroke] = createSignal(false);
  const [levered, setLevered] = createSignal(false);
  const folded = () => open()?.folded;
  const parts = (): PartAccount[] => {
    const context = folded()?.case.context;
    if (!context) return [];
    const all = partAccounts(context);
    const unlisted = context.room.opened?.construct === 'nail' && !all.some(({ kind }) => kind === 'end-cap');
    return unlisted ? [...all, cap] : all;
  };
  /** Is anything known to hold the part that is about to be driven out? By the second ladder that is asked first. */
  const isFixed = () => {
    const [now, chosen] = [folded(), on()];
    return now && chosen && drivesPart.includes(chosen.move)
      ? secondOf(now.content)?.stillFixed(now, chosen.part.id) === true
      : false;
  };
  createLayoutGuard(() => `${on()?.part.id} ${on()?.move} ${broke()} ${levered()} ${isFixed()}`);
  /** A part that nobody listed is listed with the first word on it. */
  const listed = ({ id, kind }: PartAccount): EntryDraft[] =>
    id === cap.id && !folded()?.case.context.parts.has(id) ? [{ type: 'part-listed', part: id, kind }] : [];
  const begin = (part: PartAccount, move: PartMove) => {
    if (move === 'lift') return void props.table.lift(part.id);
    setBroke(false);
    setOn({ part, move });
  };
  const end = async (outcome: Outcome, tool?: ToolId) => {
    const chosen = on();
    if (!chosen) return;
    const { part, move } = chosen;
    const made: EntryDraft = { type: 'part-move', part: part.id, move, outcome, ...(tool && { tool }) };
    if (!(await props.table.record(...listed(part), made)).ok) return;
    if (move === 'lever-plate' && outcome === 'out' && mayBeWhole().length > 0) return setLevered(true);
    props.table.home();
  };
  const sits = async () => {
    if ((await props.table.record({ type: 'checked', what: 'extractor-on' })).ok) props.table.home();
  };
  const out = (part: PartAccount) =>
    void props.table.record(...listed(part), { type: 'part-ended', part: part.id, end: 'out', complete: true });
  /** Screws that may have come out whole with the plate: they are in, and nobody told of a break or a head drilled off. */
  const mayBeWhole = () =>
    [...(folded()?.screws.values() ?? [])].flatMap(({ context: { id, stage, breaks } }) =>
      isWorking(stage) && breaks.length === 0 ? [id] : [],
    );
  const state = (part: PartAccount) => (part.end === null && part.off !== null ? w('parts.off') : partState(part, w));
  const title = () => (isFixed() && !levered() ? content().phrases.holds['still-fixed'].label : w('more.parts'));
  const ends = () => (on()?.move === 'seat-extractor' ? outcomes.slice(2) : outcomes);
  const outcome = (one: Outcome) => (one === 'tool-broke' ? setBroke(true) : void end(one));
  return (
    <Sheet title={title()} close={w('table.back')} onClose={() => props.table.home()}>
      <Switch
        fallback={
          <For each={parts()}>
            {(part) => (
              <Group label={`${partName(part, w)}: ${state(part)}`}>
                <Show when={part.end === null}>
                  <For each={part.off === null ? movesOf[part.kind] : []}>
                    {(move) => <Touch onAct={() => begin(part, move)}>{w(`parts.move.${move}`)}</Touch>}
                  </For>
                  <Touch onAct={() => out(part)}>{w('parts.out')}</Touch>
                </Show>
              </Group>
            )}
          </For>
        }
      >
        <Match when={levered()}>
          <Group label={w('parts.with-plate')}>
            <For each={mayBeWhole()}>
              {(screw) => (
                <Touch onAct={() => void props.table.record({ type: 'piece-recovered', screw, whole: true })}>
                  {w('parts.screw-came', { screw })}
                </Touch>
              )}
            </For>
            <Touch onAct={() => props.table.home()}>{w('parts.rest-still-in')}</Touch>
          </Group>
        </Match>
        <Match when={isFixed()}>
          <p>
            <small>{content().phrases.holds['still-fixed'].help}</small>
          </p>
          <StillFixed table={props.table} onStop={() => props.table.home()} />
        </Match>
        <Match when={broke()}>
          <Group label={w('parts.which-tool')}>
            <For each={folded()?.case.context.room.tools ?? []}>
              {({ tool }) => (
                <Touch onAct={() => void end('tool-broke', tool)}>{content().phrases.tools[tool].label}</Touch>
              )}
            </For>
            <Touch onAct={() => void end('tool-broke')}>{w('parts.tool-not-known')}</Touch>
          </Group>
        </Match>
        <Match when={on()}>
          {(chosen) => (
            <Group label={`${partName(chosen().part, w)}: ${w(`parts.move.${chosen().move}`)}`}>
              <Show when={chosen().move === 'seat-extractor'}>
                <Touch onAct={() => void sits()}>{w('parts.sits')}</Touch>
              </Show>
              <For each={ends()}>{(one) => <Touch onAct={() => outcome(one)}>{w(`parts.outcome.${one}`)}</Touch>}</For>
            </Group>
          )}
        </Match>
      </Switch>
    </Sheet>
  );
}
