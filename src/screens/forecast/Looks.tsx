import { For, Show } from 'solid-js';
import { soonMinutes, type Outlook } from '../../../machines/forecast.ts';
import { wordsOfAny } from '../../../content/names.ts';
import { useApp } from '../app.ts';
import { chance, told } from './outlook.ts';

/** What lies ahead of the called screw: its next move, the next half hour, all that is still to come. Never a ranking. */
export function Looks(props: { outlook: Outlook }) {
  const app = useApp();
  const { w } = app;
  const called = () => app.view()?.called ?? null;
  const looks = () => {
    const id = called();
    return id === null ? undefined : props.outlook.ahead[id];
  };
  const rows = ['next', 'soon', 'end'] as const;
  return (
    <Show when={looks()}>
      {(found) => (
        <table class="forecast-screws">
          <caption>
            <b>{w('plan.looks', { screw: called() ?? '' })}</b>
          </caption>
          <thead>
            <tr>
              <th scope="col">{w('plan.looks.reach')}</th>
              <th scope="col">{w('plan.col.out')}</th>
              <th scope="col">{w('plan.col.stoppedAtBone')}</th>
              <th scope="col">{w('plan.col.minutes')}</th>
            </tr>
          </thead>
          <tbody>
            <For each={rows}>
              {(row) => {
                const look = () => found()[row];
                const move = () => found().move;
                return (
                  <tr>
                    <th scope="row">
                      {w(`plan.looks.${row}`, { minutes: soonMinutes })}
                      <Show when={row === 'next' && move()}>
                        {(id) => <small> {wordsOfAny(app.content(), 'moves', id())?.glance ?? id()}</small>}
                      </Show>
                    </th>
                    <td class="figure">{chance(app, look().out)}</td>
                    <td class="figure">
                      <Show when={look().pastBone} fallback={w('plan.not-reckoned')}>
                        {(past) => chance(app, past())}
                      </Show>
                    </td>
                    <td class="figure">
                      {w('plan.three', {
                        low: told(look().minutes.p10),
                        middle: told(look().minutes.p50),
                        high: told(look().minutes.p90),
                      })}
                    </td>
                  </tr>
                );
              }}
            </For>
          </tbody>
        </table>
      )}
    </Show>
  );
}
