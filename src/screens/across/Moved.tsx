import { For, Show } from 'solid-js';
import { wordsOfAny } from '../../../content/names.ts';
import type { Banded, MovedRate } from '../../../machines/across/moved.ts';
import { bare, percent } from '../../format/figures.ts';
import { capital } from '../../format/prose.ts';
import { useApp } from '../app.ts';
import { rateKind } from './words.ts';

const at = (share: number) => 2 + share * 96;

/** What own counts moved: of each rate the band before them, and under it the band after. */
export function Moved(props: { moved: readonly MovedRate[] }) {
  const { w, content } = useApp();
  const band = ({ value, p10, p90 }: Banded) =>
    w('across.band', { share: percent(value), low: bare(p10), high: bare(p90) });
  const told = ({ before, after, count, of }: MovedRate) =>
    before
      ? w('across.moved-told', { before: band(before), count, of, after: band(after) })
      : w('across.moved-new', { count, of, after: band(after) });
  const line = ({ p10, p90 }: Banded, y: number) => `M${at(p10)} ${y}H${at(p90)}`;
  const mark = ({ value }: Banded, y: number) => `M${at(value)} ${y - 2.4}v4.8`;
  return (
    <section>
      <h2>{w('across.moved-title')}</h2>
      <Show when={props.moved.length > 0} fallback={<p class="soft">{w('across.none-moved')}</p>}>
        <ul class="across-bars">
          <For each={props.moved}>
            {(row) => (
              <li class="across-bar-row">
                <span>
                  <b>{capital(wordsOfAny(content(), 'moves', row.move)?.glance ?? row.move)}</b>
                  {rateKind(w, row.when)}: {wordsOfAny(content(), 'outcomes', row.outcome)?.glance ?? row.outcome}
                </span>
                <svg class="moved" viewBox="0 0 100 14" preserveAspectRatio="none" role="img" aria-label={told(row)}>
                  <path class="interval-scale" d="M2 13H98M2 11.5v3M26 12v2M50 11.5v3M74 12v2M98 11.5v3" />
                  <Show when={row.before}>{(before) => <path class="moved-before" d={line(before(), 3)} />}</Show>
                  <path class="moved-after" d={line(row.after, 8.5)} />
                  <path class="moved-mark" d={`${row.before ? mark(row.before, 3) : ''}${mark(row.after, 8.5)}`} />
                </svg>
                <small>{told(row)}</small>
              </li>
            )}
          </For>
        </ul>
      </Show>
      <p class="small soft">{w('across.moved-key')}</p>
    </section>
  );
}
