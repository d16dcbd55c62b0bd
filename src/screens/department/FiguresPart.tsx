import { For, Show, createSignal } from 'solid-js';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { shareWords } from './difference-words.ts';
import type { Edit } from './draft.ts';
import { FieldFaults } from './Faults.tsx';

const limits = ['boneConsider', 'boneStop', 'tourniquetMinutes', 'tourniquetNoticeMinutes'] as const;
type Limit = (typeof limits)[number];
const isShare = (limit: Limit) => limit.startsWith('bone');
/** Hours between two doses that the pad takes; longer is not a matter of one operation. */
const hourRange = { min: 0.5, max: 24 };

type Asked = { kind: 'limit'; limit: Limit } | { kind: 'drug'; id: string };

/** Limits and intervals: what the release says, what the department sets in its place, and the way back. */
export function FiguresPart(props: { edit: Edit }) {
  const app = useApp();
  const { w } = app;
  const [asked, setAsked] = createSignal<Asked | null>(null);
  createLayoutGuard(() => JSON.stringify(asked()));
  const own = () => props.edit.draft().limits ?? {};
  const released = (limit: Limit) => props.edit.release.limits[limit]?.value ?? null;
  const limitWords = (limit: Limit, value: number | null) => {
    if (value === null) return w('briefing.limit-none');
    return isShare(limit) ? shareWords(value) : w('department.minutes', { minutes: value });
  };
  const setLimit = (limit: Limit, value: number | null) => {
    const { [limit]: _, ...rest } = own();
    props.edit.change({ limits: value === null || value === released(limit) ? rest : { ...rest, [limit]: value } });
  };
  const drugs = () => props.edit.draft().antibiotics ?? [];
  const ownDrug = (id: string) => drugs().find((drug) => drug.id === id);
  const releasedDrug = (id: string) => props.edit.release.antibiotics.find((drug) => drug.id === id);
  const hours = (value: number | null | undefined) =>
    value === null || value === undefined ? w('department.not-again') : w('department.hours', { hours: value });
  const setDrug = (id: string, redoseHours: number | null | undefined) => {
    const rest = drugs().filter((drug) => drug.id !== id);
    const same = redoseHours === undefined || releasedDrug(id)?.redoseHours === redoseHours;
    props.edit.change({ antibiotics: same ? rest : [...rest, { ...ownDrug(id), id, redoseHours }] });
  };
  const title = (now: Asked) =>
    now.kind === 'limit' ? w(`department.limit.${now.limit}`) : w('department.interval-of', { drug: now.id });
  const range = (now: Asked) => {
    if (now.kind === 'drug') return hourRange;
    return isShare(now.limit) ? { min: 0, max: 100 } : { min: 1, max: 900 };
  };
  const take = (now: Asked, value: number | null) => {
    if (now.kind === 'drug') setDrug(now.id, value);
    else if (value !== null) setLimit(now.limit, isShare(now.limit) ? Number((value / 100).toFixed(4)) : value);
    setAsked(null);
  };
  const asReleased = (now: Asked) => {
    if (now.kind === 'drug') setDrug(now.id, undefined);
    else setLimit(now.limit, null);
    setAsked(null);
  };
  return (
    <Show
      when={asked()}
      fallback={
        <>
          <div class="figure-cards">
            <For each={limits}>
              {(limit) => (
                <div>
                  <Touch size="card" onAct={() => setAsked({ kind: 'limit', limit })}>
                    <span>{w(`department.limit.${limit}`)}</span>
                    <b class="figure">{limitWords(limit, own()[limit] ?? released(limit))}</b>
                    <small>
                      {own()[limit] === undefined
                        ? w('department.as-released')
                        : w('department.released-is', { value: limitWords(limit, released(limit)) })}
                    </small>
                  </Touch>
                  <FieldFaults faults={props.edit.faultsAt(`limits.${limit}`)} />
                </div>
              )}
            </For>
          </div>
          <h2>{w('department.intervals')}</h2>
          <div class="figure-cards">
            <For
              each={[
                ...props.edit.release.antibiotics.map(({ id }) => id),
                ...drugs()
                  .map(({ id }) => id)
                  .filter((id) => !releasedDrug(id)),
              ]}
            >
              {(id) => (
                <Touch size="card" onAct={() => setAsked({ kind: 'drug', id })}>
                  <span>{id}</span>
                  <b class="figure">{hours(ownDrug(id) ? ownDrug(id)?.redoseHours : releasedDrug(id)?.redoseHours)}</b>
                  <Show when={ownDrug(id) && releasedDrug(id)}>
                    <small>{w('department.released-is', { value: hours(releasedDrug(id)?.redoseHours) })}</small>
                  </Show>
                </Touch>
              )}
            </For>
          </div>
          <FieldFaults faults={props.edit.faultsAt('antibiotics')} />
        </>
      }
    >
      {(now) => (
        <>
          <NumberPad
            label={title(now())}
            unit={
              now().kind === 'drug'
                ? w('department.unit-hours')
                : isShare((now() as { limit: Limit }).limit)
                  ? w('department.unit-share')
                  : w('department.unit-minutes')
            }
            value={null}
            decimals={now().kind === 'drug' ? 1 : 0}
            min={range(now()).min}
            max={range(now()).max}
            words={{
              done: w('department.done'),
              back: w('department.rub-out'),
              range: w('department.range', range(now())),
              ...(now().kind === 'drug' && { unknown: w('department.not-again') }),
            }}
            onDone={(value) => take(now(), value)}
          />
          <div class="choice-row">
            <Touch onAct={() => asReleased(now())}>{w('department.to-released')}</Touch>
            <Touch onAct={() => setAsked(null)}>{w('department.leave')}</Touch>
          </div>
        </>
      )}
    </Show>
  );
}
