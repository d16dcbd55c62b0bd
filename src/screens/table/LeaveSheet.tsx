import { For, Show, createSignal } from 'solid-js';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { Deciders } from './Deciders.tsx';
import { sourceWords } from '../source-words.ts';
import type { Table } from './state.ts';
import { useApp } from '../app.ts';

const reasons = ['bone', 'deep', 'tools', 'time', 'harmless', 'patient'] as const;
const places = ['near', 'through', 'far'] as const;

const twoSided = 'consider-trephine';

/** Of a deep piece: let it stay, or go after it? Both sides in one breath, with the source. */
function BothSides() {
  const app = useApp();
  const phrase = () => app.content().phrases.holds[twoSided];
  const source = () => app.content().holds.find(({ id }) => id === twoSided)?.source ?? '';
  return (
    <p class="small both-sides">
      <b>{phrase().label}</b> {phrase().help} <small class="soft">{sourceWords(app, source())}</small>
    </p>
  );
}

/** What is known of either way, each figure with its source. */
function EitherWay() {
  const app = useApp();
  const ways = () => app.content().moves.filter(({ id }) => id === 'leave-in' || id === 'hollow-ream');
  return (
    <For each={ways()}>
      {(move) => (
        <section class="small either-way" aria-label={app.content().phrases.moves[move.id].label}>
          <b>{app.content().phrases.moves[move.id].label}</b>
          <ul>
            <For each={move.evidence}>
              {(row) => (
                <li>
                  {row.text}. <small class="soft">{sourceWords(app, row.source)}</small>
                </li>
              )}
            </For>
          </ul>
        </section>
      )}
    </For>
  );
}

/** Leaving a screw in is a decision: why and where, one touch each, then recorded. What else is known can follow. */
export function LeaveSheet(props: { table: Table }) {
  const { w } = useApp();
  const [decides, setDecides] = createSignal<string | undefined>(undefined);
  const [where, setWhere] = createSignal<string | null>(null);
  const [typed, setTyped] = createSignal('');
  const [image, setImage] = createSignal(false);
  const isTwoSided = () => props.table.isSecond() && (props.table.screw()?.notices.includes(twoSided) ?? false);
  const leave = async (reason: string) => {
    const screw = props.table.called();
    if (screw === null) return;
    const result = await props.table.record({
      type: 'left-in',
      screw,
      // Nobody measured what stays; what it may be is never written down as if somebody had.
      length: null,
      where: where() ?? w('leave.where-unsaid'),
      reason,
      // Not touched is not recorded, never "no".
      ...(image() && { imageTaken: true }),
      ...(decides() !== undefined && { decidedBy: decides() as string }),
    });
    if (result.ok) props.table.home();
  };
  return (
    <Sheet
      title={w('leave.title', { screw: props.table.called() ?? '' })}
      close={w('table.back')}
      onClose={() => props.table.home()}
    >
      <Show when={isTwoSided()}>
        <BothSides />
      </Show>
      <div class="leave-row" role="group" aria-label={w('leave.where')}>
        <span class="choice-label">{w('leave.where')}</span>
        <For each={places}>
          {(place) => (
            <Touch
              size="card"
              pressed={where() === w(`leave.place.${place}`)}
              onAct={() => setWhere(w(`leave.place.${place}`))}
            >
              {w(`leave.place.${place}`)}
            </Touch>
          )}
        </For>
        <Touch size="card" pressed={image()} onAct={() => setImage(!image())}>
          {w('leave.image-yes')}
        </Touch>
      </div>
      <div class="leave-row" role="group" aria-label={w('leave.why')}>
        <span class="choice-label">{w('leave.why')}</span>
        <For each={reasons}>
          {(reason) => (
            <Touch size="card" onAct={() => void leave(w(`leave.reason.${reason}`))}>
              {w(`leave.reason.${reason}`)}
            </Touch>
          )}
        </For>
      </div>
      <div class="leave-row" role="group" aria-label={w('leave.decides')}>
        <Deciders chosen={decides()} onChoose={setDecides} />
        <Touch onAct={() => void props.table.stopAll()}>{w('more.stop')}</Touch>
      </div>
      <TextEntry label={w('leave.other')} value={typed()} onInput={setTyped} />
      <Touch onAct={() => void leave(typed().trim())} closed={typed().trim() === '' ? w('leave.no-words') : undefined}>
        {w('leave.record')}
      </Touch>
      <Show when={isTwoSided()}>
        <EitherWay />
      </Show>
    </Sheet>
  );
}
