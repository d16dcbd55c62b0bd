import { For, Show, createSignal } from 'solid-js';
import type { MoveId, Outcome } from '../../../content/ids.ts';
import { statuses } from '../../../content/types.ts';
import type { Fault } from '../../../machines/entry.ts';
import type { Forecast } from '../../../machines/forecast.ts';
import type { OwnRate } from '../../../machines/own-rates.ts';
import { download, type Sent } from '../../device/share.ts';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { percent } from '../../format/figures.ts';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { keepRate, keepRates, ratesFile, ratesInUse, readRatesFile } from '../../session/rates.ts';
import { useApp } from '../app.ts';
import { Faults } from '../Faults.tsx';
import { FilePick } from '../../parts/FilePick.tsx';
import { failureWords } from '../failure-words.ts';

type Row = Forecast['rates'][number];

export interface RatesProps {
  /** The rates that the forecast rests on just now. */
  used: Forecast['rates'];
  onBack: () => void;
}

/** Each share that the forecast uses, with its status; a touch replaces it by an own one, on this device only. */
export function Rates(props: RatesProps) {
  const app = useApp();
  const { w } = app;
  const [asked, setAsked] = createSignal<Row | null>(null);
  const [faults, setFaults] = createSignal<readonly Fault[]>([]);
  const [said, setSaid] = createSignal('');
  createLayoutGuard(() => `${asked()?.move} ${asked()?.outcome} ${faults().length}`);
  const phrases = () => app.content().phrases;
  const inUse = () => ratesInUse(app);
  /** Rows of one move that count for the same screws: a move can have other shares for locking ones. */
  const groups = () => {
    const found = new Map<string, { move: MoveId; kind: string; rows: Row[] }>();
    for (const row of props.used) {
      const { move } = row;
      const kind = kindOf(row);
      const group = found.get(`${move} ${kind}`);
      if (group) group.rows.push(row);
      else found.set(`${move} ${kind}`, { move, kind, rows: [row] });
    }
    return [...found.values()];
  };
  const kindOf = ({ move, outcome, value }: Row): string => {
    const all = app.content().rates.moves.filter((rate) => rate.move === move);
    const rate = all.find(({ outcomes }) => outcomes.some((one) => one.outcome === outcome && one.value === value));
    if (all.length < 2 || !rate) return '';
    if (!rate.when) return w('plan.kind-other');
    return rate.when.upTo === undefined ? w('plan.kind') : w('plan.kind-to', { diameter: rate.when.upTo });
  };
  const statusWord = (status: string) =>
    (statuses as readonly string[]).includes(status) ? w(`status.${status}`) : status;
  const tell = (kept: Sent | { faults: Fault[] }, done: string) => {
    if ('faults' in kept) {
      setSaid('');
      return setFaults(kept.faults);
    }
    setFaults([]);
    setSaid(kept.ok ? done : w('plan.not-kept', { why: failureWords(w, kept.reason) }));
  };
  const keep = async (read: { rates: OwnRate[] } | { faults: Fault[] }, done: string) =>
    tell('faults' in read ? read : await keepRates(read.rates), done);
  const take = async (row: Row, cent: number | null) => {
    setAsked(null);
    if (cent === null) return;
    const { move, outcome } = row;
    const own = { move, outcome, value: cent / 100, status: w('plan.status-own') };
    tell(await keepRate(own, app.content()), w('plan.kept'));
  };
  const name = (move: MoveId, outcome: Outcome) =>
    w('plan.rate-of', { move: phrases().moves[move].label, outcome: phrases().outcomes[outcome].label });
  return (
    <Show
      when={asked()}
      fallback={
        <div class="rates">
          <p class="small">{w('plan.rates-lead')}</p>
          <div class="choice-row">
            <Touch onAct={() => props.onBack()}>{w('plan.to-forecast')}</Touch>
            <Touch
              onAct={() => setSaid(download(ratesFile(inUse().rates)).ok ? w('plan.handed') : '')}
              closed={inUse().from === 'released' ? w('plan.none-own') : undefined}
            >
              {w('plan.rates-save')}
            </Touch>
            <FilePick
              label={w('plan.rates-bring')}
              onBytes={(bytes) => void keep(readRatesFile(bytes, app.content()), w('plan.kept'))}
            />
          </div>
          <p role="status">{said()}</p>
          <Faults faults={faults()} />
          <For each={groups()}>
            {({ move, kind, rows }) => (
              <section aria-label={`${phrases().moves[move].label} ${kind}`.trim()}>
                <h3>
                  {phrases().moves[move].label} <span class="small soft">{kind}</span>
                </h3>
                <div class="rate-cards">
                  <For each={rows}>
                    {(row) => (
                      <Touch size="card" onAct={() => setAsked(row)}>
                        <span>
                          {phrases().outcomes[row.outcome].label} <b class="figure">{percent(row.value)}</b>
                        </span>
                        <small>{statusWord(row.status)}</small>
                      </Touch>
                    )}
                  </For>
                </div>
              </section>
            )}
          </For>
          <p class="small soft">{w('plan.rates-minutes')}</p>
          <div class="forecast-apart">
            <Touch
              consequential
              apart="block"
              onAct={() => void keep({ rates: [] }, w('plan.released-again'))}
              closed={inUse().from === 'released' ? w('plan.none-own') : undefined}
            >
              {w('plan.rates-released')}
            </Touch>
          </div>
        </div>
      }
    >
      {(row) => (
        <div class="rates">
          <NumberPad
            label={name(row().move, row().outcome)}
            unit={w('plan.of-hundred')}
            value={null}
            decimals={0}
            min={0}
            max={100}
            words={{
              done: w('plan.done'),
              back: w('plan.rub-out'),
              unknown: w('plan.leave-as-it-is'),
              range: w('plan.range'),
            }}
            onDone={(cent) => void take(row(), cent)}
          />
          <p class="small soft">{w('plan.rate-scaled')}</p>
        </div>
      )}
    </Show>
  );
}
