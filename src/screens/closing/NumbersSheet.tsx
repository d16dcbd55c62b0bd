import { Match, Show, Switch, createSignal } from 'solid-js';
import { Choice } from '../../parts/Choice.tsx';
import { span } from '../../format/figures.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { effective } from '../../session/effective.ts';
import { useApp } from '../app.ts';
import type { Recorder } from './recorder.ts';

const doseUnits = ['mGy', 'cGy·cm²', 'mGy·cm²', 'µGy·m²'] as const;
const minutesAgo = [0, 2, 5, 10, 20] as const;

/** What is left open on the clocks: tourniquet, images, antibiotic, blood lost. */
export function NumbersSheet(props: { recorder: Recorder; onClose: () => void }) {
  const app = useApp();
  const { w } = app;
  const [doing, setDoing] = createSignal<'look' | 'shots' | 'dose' | 'antibiotic' | 'blood'>('look');
  const [ago, setAgo] = createSignal(0);
  const [shots, setShots] = createSignal(0);
  const [unit, setUnit] = createSignal<string | null>(null);
  createLayoutGuard(doing);
  const clocks = () => app.view()?.clocks;
  const blood = () => {
    const open = app.open();
    const last = open && effective(open).findLast((entry) => entry.type === 'blood-loss');
    return last?.type === 'blood-loss' ? last.ml : null;
  };
  const home = async (ok: Promise<boolean>) => {
    if (!(await ok)) return;
    setAgo(0);
    setDoing('look');
  };
  const pad = () => ({ back: w('closing.rub-out'), done: w('closing.record') });
  const turn = (to: 'up' | 'down') => home(props.recorder.record({ type: 'tourniquet', to }, { minutesAgo: ago() }));
  return (
    <Sheet
      title={w('closing.numbers')}
      close={w('closing.back')}
      onClose={() => (doing() === 'look' ? props.onClose() : setDoing('look'))}
    >
      <Switch>
        <Match when={doing() === 'look'}>
          <div class="closing-form">
            <Choice
              label={w('closing.when')}
              options={minutesAgo.map((value) => ({
                value,
                label: value === 0 ? w('closing.now') : w('closing.minutes-ago', { minutes: value }),
              }))}
              value={ago()}
              onChoose={setAgo}
            />
            <div class="numbers">
              <Touch size="card" onAct={() => void turn(clocks()?.tourniquetUp ? 'down' : 'up')}>
                {w(clocks()?.tourniquetUp ? 'closing.let-down' : 'closing.put-up')}
                <small>
                  {clocks()?.tourniquetUp
                    ? w('closing.tourniquet-up', { minutes: span(clocks()?.tourniquetMinutes ?? 0) })
                    : w('closing.tourniquet-down', { minutes: span(clocks()?.tourniquetTotalMinutes ?? 0) })}
                </small>
              </Touch>
              <Touch size="card" onAct={() => setDoing('shots')}>
                {w('closing.images-more')}
                <small>{w('closing.images-so-far', { shots: clocks()?.shots ?? 0 })}</small>
              </Touch>
              <Touch size="card" onAct={() => setDoing('antibiotic')}>
                {w('closing.antibiotic')}
                <small>
                  {clocks()?.antibioticDueMinutes === null || clocks()?.antibioticDueMinutes === undefined
                    ? w('closing.antibiotic-none')
                    : (clocks()?.antibioticDueMinutes ?? 0) < 0
                      ? w('closing.antibiotic-past', { minutes: span(-(clocks()?.antibioticDueMinutes ?? 0)) })
                      : w('closing.antibiotic-in', { minutes: span(clocks()?.antibioticDueMinutes ?? 0) })}
                </small>
              </Touch>
              <Touch size="card" onAct={() => setDoing('blood')}>
                {w('closing.blood')}
                <small>{blood() === null ? w('record.not-recorded') : `${blood()} ml`}</small>
              </Touch>
            </div>
          </div>
        </Match>
        <Match when={doing() === 'shots'}>
          <NumberPad
            label={w('closing.shots')}
            unit={w('closing.shots-unit')}
            value={null}
            decimals={0}
            min={1}
            max={9999}
            words={{ ...pad(), done: w('closing.go-on'), range: w('closing.shots-range') }}
            onDone={(count) => {
              setShots(count ?? 0);
              setDoing('dose');
            }}
          />
        </Match>
        <Match when={doing() === 'dose'}>
          <Choice
            label={w('closing.dose-unit')}
            options={doseUnits.map((value) => ({ value: value, label: value }))}
            value={unit()}
            onChoose={setUnit}
          />
          <Show
            when={unit()}
            fallback={
              <Touch
                onAct={() =>
                  void home(props.recorder.record({ type: 'images', shots: shots() }, { minutesAgo: ago() }))
                }
              >
                {w('closing.no-dose')}
              </Touch>
            }
          >
            {(chosen) => (
              <NumberPad
                label={w('closing.dose')}
                unit={chosen()}
                value={null}
                min={0}
                max={9999}
                words={{ ...pad(), range: w('closing.dose-range') }}
                onDone={(dose) =>
                  void home(
                    props.recorder.record(
                      { type: 'images', shots: shots(), ...(dose !== null && { dose, doseUnit: chosen() }) },
                      { minutesAgo: ago() },
                    ),
                  )
                }
              />
            )}
          </Show>
        </Match>
        <Match when={doing() === 'antibiotic'}>
          <Choice
            label={w('closing.antibiotic-which')}
            options={app.content().antibiotics.map(({ id, dose }) => ({ value: id, label: id, note: dose }))}
            onChoose={(drug) => void home(props.recorder.record({ type: 'antibiotic', drug }, { minutesAgo: ago() }))}
          />
        </Match>
        <Match when={doing() === 'blood'}>
          <NumberPad
            label={w('closing.blood')}
            unit="ml"
            value={null}
            decimals={0}
            min={0}
            max={9999}
            words={{ ...pad(), range: w('closing.blood-range') }}
            onDone={(ml) => ml !== null && void home(props.recorder.record({ type: 'blood-loss', ml }))}
          />
        </Match>
      </Switch>
    </Sheet>
  );
}
