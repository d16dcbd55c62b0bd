import { For, Show } from 'solid-js';
import { useApp } from '../app.ts';

/** Which content this is, how old, under which licences; and the standing cautions. */
export function About() {
  const app = useApp();
  const { w } = app;
  const expired = () => app.content().expires < new Date(app.tick()).toISOString().slice(0, 10);
  return (
    <div class="about">
      <p>
        <b>{w('settings.content-version', { version: app.content().version })}</b>
      </p>
      <p>{w('settings.reviewed', { reviewed: app.content().reviewed, expires: app.content().expires })}</p>
      <Show when={expired()}>
        <p>
          <b>{w('settings.expired')}</b>
        </p>
      </Show>
      <p>{app.content().orderStatus}</p>
      <h2>{w('settings.cautions')}</h2>
      <ul>
        <For each={app.content().phrases.cautions}>{(line) => <li>{line}</li>}</For>
      </ul>
      <h2>{w('settings.licences')}</h2>
      <ul>
        <li>{w('settings.licence-app')}</li>
        <li>{w('settings.licence-font')}</li>
        <li>{w('settings.licence-loinc')}</li>
      </ul>
    </div>
  );
}
