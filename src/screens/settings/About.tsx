import { For, Show, createSignal } from 'solid-js';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Help } from '../help/Help.tsx';
import { isExpired, useApp } from '../app.ts';

/** Which content this is, how old, under which licences; and the standing cautions. */
export function About() {
  const app = useApp();
  const { w } = app;
  const [help, setHelp] = createSignal(false);
  createLayoutGuard(help);
  return (
    <div class="about">
      <Show when={help()} fallback={<Touch onAct={() => setHelp(true)}>{w('plan.help.title')}</Touch>}>
        <Help onClose={() => setHelp(false)} />
      </Show>
      <p>
        <b>{w('settings.content-version', { version: app.content().version })}</b>
      </p>
      <p>{w('settings.reviewed', { reviewed: app.content().reviewed, expires: app.content().expires })}</p>
      <Show when={isExpired(app.content(), app.tick())}>
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
      <a class="notices-link" href="./third-party-notices.txt" target="_blank" rel="noopener">
        {w('settings.licence-packages')}
      </a>
    </div>
  );
}
