import { For, Show, createSignal, type JSX } from 'solid-js';
import type { Cited } from '../../../content/types.ts';
import type { EntryDraft } from '../../../machines/entry.ts';
import { percent } from '../../format/figures.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Choice } from '../../parts/Choice.tsx';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { wasSet, type CaseLimit } from '../../session/effective.ts';
import { useApp } from '../app.ts';
import { People } from './People.tsx';
import { TheatreClock } from './TheatreClock.tsx';
import type { StepProps } from './step.ts';

type LimitsDraft = Extract<EntryDraft, { type: 'limits-set' }>;
const considers = [0.1, 0.15, 0.2, 0.25, 0.3];
const stops = [0.2, 0.25, 0.3, 0.35, 0.4];
const tourniquets = [45, 60, 90, 105, 120, 135];
const theatre = [30, 45, 60, 90, 120, 180, 240];

/** Limits of bone and time, who is in the room, and the clock on the wall. */
export function Agreed(props: StepProps) {
  const app = useApp();
  const { w } = app;
  const [pad, setPad] = createSignal<'tourniquetMinutes' | 'theatreMinutes' | null>(null);
  createLayoutGuard(() => pad());
  const context = () => app.open()?.folded.case.context;
  const limits = () => context()?.room.limits;
  const set = (change: Omit<LimitsDraft, 'type'>) => void props.put({ type: 'limits-set', ...change });
  const cite = (id: string) => app.content().sources.find((row) => row.id === id)?.cite ?? id;
  const note = (field: CaseLimit) => {
    const open = app.open();
    if (open && wasSet(open, field)) return w('briefing.limit-set');
    const released = app.content().limits[field];
    return released ? w('briefing.limit-not-set', { source: cite(released.source) }) : w('briefing.limit-none');
  };
  const minutes = (value: number) => ({ value, label: w('briefing.minutes', { minutes: value }) });
  const withNow = (offers: readonly number[], now: number | null | undefined) =>
    now !== null && now !== undefined && !offers.includes(now) ? [...offers, now] : offers;

  return (
    <Show
      when={pad()}
      fallback={
        <div class="agreed">
          <Section title={w('briefing.people')}>
            <People put={props.put} />
          </Section>
          <Section title={w('briefing.limits-bone')}>
            <Choice
              label={w('briefing.bone-consider', { note: note('boneConsider') })}
              options={withNow(considers, limits()?.boneConsider).map((value) => ({
                value,
                label: percent(value),
                closed: value > (limits()?.boneStop ?? 1) ? w('briefing.over-upper') : undefined,
              }))}
              value={limits()?.boneConsider}
              onChoose={(boneConsider) => set({ boneConsider })}
            />
            <Choice
              label={w('briefing.bone-stop', { note: note('boneStop') })}
              options={withNow(stops, limits()?.boneStop).map((value) => ({
                value,
                label: percent(value),
                closed: value < (limits()?.boneConsider ?? 0) ? w('briefing.under-lower') : undefined,
              }))}
              value={limits()?.boneStop}
              onChoose={(boneStop) => set({ boneStop })}
            />
          </Section>
          <Section title={w('briefing.limits-time')}>
            <Choice
              label={w('briefing.tourniquet', { note: note('tourniquetMinutes') })}
              options={[
                ...withNow(tourniquets, context()?.tourniquetLimit).map(minutes),
                { value: 0, label: w('briefing.other') },
              ]}
              value={context()?.tourniquetLimit}
              onChoose={(value) => (value === 0 ? setPad('tourniquetMinutes') : set({ tourniquetMinutes: value }))}
            />
            <ul>
              <For each={app.content().limits.tourniquetBySite}>{(row) => <SiteRow row={row} cite={cite} />}</For>
            </ul>
            <Choice
              label={w('briefing.theatre-minutes', {
                note: context()?.theatreMinutes == null ? w('briefing.not-recorded') : w('briefing.limit-set'),
              })}
              options={[
                ...withNow(theatre, context()?.theatreMinutes).map(minutes),
                { value: 0, label: w('briefing.other') },
              ]}
              value={context()?.theatreMinutes}
              onChoose={(value) => (value === 0 ? setPad('theatreMinutes') : set({ theatreMinutes: value }))}
            />
            <p class="small soft">{w('short-anaesthetic')}</p>
          </Section>
          <Section title={w('briefing.clock')}>
            <TheatreClock put={props.put} />
          </Section>
        </div>
      }
    >
      {(field) => (
        <NumberPad
          label={field() === 'theatreMinutes' ? w('briefing.theatre-pad') : w('briefing.tourniquet-pad')}
          unit={w('briefing.min')}
          value={null}
          decimals={0}
          min={5}
          max={900}
          words={{
            done: w('briefing.done'),
            back: w('briefing.rub-out'),
            range: w('briefing.range', { min: 5, max: 900 }),
          }}
          onDone={(value) => {
            const chosen = field();
            setPad(null);
            if (value !== null) set({ [chosen]: value });
          }}
        />
      )}
    </Show>
  );
}

function Section(props: { title: string; children: JSX.Element }) {
  return (
    <section class="agreed-part" aria-label={props.title}>
      <h2>{props.title}</h2>
      {props.children}
    </section>
  );
}

function SiteRow(props: { row: Cited; cite: (id: string) => string }) {
  return (
    <li class="small">
      {props.row.text} <span class="soft">({props.cite(props.row.source)})</span>
    </li>
  );
}
