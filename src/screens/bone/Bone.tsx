import { For, Match, Show, Switch, createMemo, createSignal } from 'solid-js';
import { boneName } from '../../../content/names.ts';
import type { BoneMeasure } from '../../../machines/case.context.ts';
import type { EntryDraft } from '../../../machines/entry.ts';
import { millimetres } from '../../format/figures.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Choice } from '../../parts/Choice.tsx';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import '../briefing.css';

type Field = 'outer' | 'cortex';
type Page = Field | 'source' | 'true-size' | 'film-size' | 'level' | null;

/**
 * True size over size on the film: what a length on the film is multiplied by.
 *
 * @param trueMm known size of the reference, mm, > 0
 * @param filmMm its size on the film, mm, > 0
 * @returns the factor, to a thousandth
 * @example filmFactor(25, 27.5) // 0.909
 */
export const filmFactor = (trueMm: number, filmMm: number): number => Math.round((trueMm / filmMm) * 1000) / 1000;

const tenth = (mm: number) => Math.round(mm * 10) / 10;

/** Outer diameter and cortex of the bone, for the whole of it or at one screw; measured or assumed, never silently so. */
export function Bone(props: {
  /** Records the drafts in order; false when one was refused, which is then said. */
  put: (...drafts: EntryDraft[]) => Promise<boolean>;
}) {
  const app = useApp();
  const { w } = app;
  /** Null: the whole bone. */
  const [level, setLevel] = createSignal<string | null>(null);
  const [draft, setDraft] = createSignal<Partial<Record<Field, number>>>({});
  const [page, setPage] = createSignal<Page>('outer');
  const [trueSize, setTrueSize] = createSignal<number | null>(null);
  const [factor, setFactor] = createSignal<number | null>(null);
  createLayoutGuard(() => `${page()} ${level()}`);

  const room = () => app.open()?.folded.case.context.room;
  const screws = () => [...(app.open()?.folded.screws.keys() ?? [])];
  const standing = (): BoneMeasure | null => {
    const id = level();
    return (id === null ? room()?.bone : room()?.boneAt[id]) ?? null;
  };
  const prefill = createMemo(() => {
    const named = room()?.opened?.bone.trim().toLowerCase();
    return app.content().bones.find(({ id }) => id === named) ?? null;
  });
  const value = (field: Field) => draft()[field] ?? standing()?.[field] ?? null;
  const both = () => {
    const [outer, cortex] = [value('outer'), value('cortex')];
    return outer !== null && cortex !== null ? { outer, cortex } : null;
  };
  const fault = () => {
    const measures = both();
    if (!measures) return w('briefing.bone-both');
    return measures.cortex >= measures.outer / 2 ? w('briefing.bone-too-thick') : undefined;
  };
  const enter = async (source: 'measured' | 'assumed', measures = both()) => {
    const id = level();
    if (!measures) return;
    const recorded = await props.put({
      type: 'bone-measured',
      ...(id !== null && { screw: id }),
      ...measures,
      source,
    });
    if (!recorded) return;
    setDraft({});
    setPage(null);
  };
  const take = (field: Field, typed: number | null) => {
    if (typed === null) return;
    setDraft({ ...draft(), [field]: tenth(typed * (factor() ?? 1)) });
    setPage(field === 'outer' ? 'cortex' : 'source');
  };
  const takeFilm = async (film: number | null) => {
    const real = trueSize();
    if (real === null || film === null) return;
    const found = filmFactor(real, film);
    if (await props.put({ type: 'remark', text: w('briefing.film-remark', { real, film, factor: found }) })) {
      setFactor(found);
      setPage('outer');
    }
  };
  const pickLevel = (id: string | null) => {
    setLevel(id);
    setDraft({});
    setPage('outer');
  };
  const said = (field: Field) => {
    const mm = value(field);
    return mm === null ? w('briefing.not-recorded') : millimetres(mm);
  };
  const padWords = (min: number, max: number) => ({
    done: w('briefing.done'),
    back: w('briefing.rub-out'),
    range: w('briefing.range', { min, max }),
  });

  return (
    <div class="bone-step">
      <div class="bone-facts">
        <Touch current={page() === 'outer'} onAct={() => setPage('outer')}>
          <small>{w('briefing.outer')}</small>
          <span class="figure">{said('outer')}</span>
        </Touch>
        <Touch current={page() === 'cortex'} onAct={() => setPage('cortex')}>
          <small>{w('briefing.cortex')}</small>
          <span class="figure">{said('cortex')}</span>
        </Touch>
        <Touch current={page() === 'source'} onAct={() => setPage('source')}>
          <small>{w('briefing.source')}</small>
          <span>
            {Object.keys(draft()).length > 0
              ? w('briefing.not-entered-yet')
              : standing()
                ? standing()?.source === 'measured'
                  ? w('briefing.measured')
                  : w('briefing.assumed')
                : w('briefing.not-recorded')}
          </span>
        </Touch>
        <Show when={prefill()}>
          {(bone) => (
            <Touch onAct={() => void enter('assumed', { outer: bone().outer, cortex: bone().cortex })}>
              <small>{w('briefing.bone-prefill-note', { bone: boneName(app.content(), bone().id) })}</small>
              <span>{w('briefing.bone-prefill', { outer: bone().outer, cortex: bone().cortex })}</span>
            </Touch>
          )}
        </Show>
        <Show when={screws().length > 0}>
          <Touch current={page() === 'level'} onAct={() => setPage('level')}>
            <small>{w('briefing.level')}</small>
            <span>
              {level() === null ? w('briefing.whole-bone') : w('briefing.level-screw', { screw: level() ?? '' })}
            </span>
          </Touch>
        </Show>
        <Touch current={page() === 'true-size' || page() === 'film-size'} onAct={() => setPage('true-size')}>
          <small>{w('briefing.film')}</small>
          <span class="figure">
            {factor() === null ? w('briefing.film-none') : w('briefing.film-times', { factor: factor() ?? 1 })}
          </span>
        </Touch>
      </div>
      <div class="bone-page">
        <Switch>
          <Match when={page() === 'level'}>
            <Choice
              label={w('briefing.bone-level')}
              options={[
                { value: '', label: w('briefing.whole-bone') },
                ...screws().map((id) => ({
                  value: id,
                  label: room()?.boneAt[id] ? w('briefing.level-done', { screw: id }) : id,
                })),
              ]}
              value={level() ?? ''}
              onChoose={(id) => pickLevel(id === '' ? null : id)}
            />
          </Match>
          <Match when={page() === 'true-size'}>
            <NumberPad
              label={w('briefing.film-true')}
              unit={w('briefing.mm')}
              value={trueSize()}
              min={1}
              max={300}
              words={padWords(1, 300)}
              onDone={(mm) => {
                setTrueSize(mm);
                setPage('film-size');
              }}
            />
          </Match>
          <Match when={page() === 'film-size'}>
            <NumberPad
              label={w('briefing.film-measured', { real: trueSize() ?? 0 })}
              unit={w('briefing.mm')}
              value={null}
              min={1}
              max={400}
              words={padWords(1, 400)}
              onDone={(mm) => void takeFilm(mm)}
            />
          </Match>
          <Match when={page() === 'source'}>
            <div class="question">
              <Choice
                label={w('briefing.source-question')}
                options={[
                  { value: 'measured' as const, label: w('briefing.measured-film'), closed: fault() },
                  { value: 'assumed' as const, label: w('briefing.assumed'), closed: fault() },
                ]}
                onChoose={(source) => void enter(source)}
              />
              <p class="small soft">{w('briefing.film-caution')}</p>
            </div>
          </Match>
        </Switch>
        <For each={(['outer', 'cortex'] as const).filter((field) => field === page())}>
          {(field) => (
            <NumberPad
              label={
                factor() === null
                  ? w(field === 'outer' ? 'briefing.outer-ask' : 'briefing.cortex-ask')
                  : w(field === 'outer' ? 'briefing.outer-film' : 'briefing.cortex-film', { factor: factor() ?? 1 })
              }
              unit={w('briefing.mm')}
              value={null}
              min={0.5}
              max={80}
              words={padWords(0.5, 80)}
              onDone={(mm) => take(field, mm)}
            />
          )}
        </For>
      </div>
    </div>
  );
}
