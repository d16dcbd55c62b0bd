import { createSignal, For, Match, Switch } from 'solid-js';
import { Choice } from '../parts/Choice.tsx';
import { Touch } from '../parts/Touch.tsx';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { screenOf, useApp } from './app.ts';
import { Department } from './Department.tsx';
import { About } from './settings/About.tsx';
import { Calibration } from './settings/Calibration.tsx';
import { LanguageChoice } from './settings/LanguageChoice.tsx';
import { Privacy } from './settings/Privacy.tsx';
import { Sizes } from './settings/Sizes.tsx';
import { Sources } from './settings/Sources.tsx';
import './settings.css';

const pages = ['screen', 'sizes', 'privacy', 'department', 'sources', 'about'] as const;
type Page = (typeof pages)[number];
const distances = [1.5, 2, 2.5, 3];

/** What belongs to this device and to no case; and what the content rests on. */
export function Settings() {
  const app = useApp();
  const { w } = app;
  const [page, setPage] = createSignal<Page>('screen');
  createLayoutGuard(page);
  const title: Record<Page, string> = {
    screen: w('settings.screen'),
    sizes: w('settings.sizes'),
    privacy: w('privacy.title'),
    department: w('department.title'),
    sources: w('settings.sources'),
    about: w('settings.about'),
  };
  return (
    <main class="settings">
      <nav class="settings-pages" aria-label={w('settings.title')}>
        <For each={pages}>
          {(one) => (
            <Touch size="card" current={page() === one} onAct={() => setPage(one)}>
              {title[one]}
            </Touch>
          )}
        </For>
      </nav>
      <header class="settings-head">
        <h1>{title[page()]}</h1>
        <Touch onAct={() => app.go(screenOf(app.view()))}>
          {app.open() ? w('settings.back-to-case') : w('settings.back')}
        </Touch>
      </header>
      <section class="settings-body scrolls" aria-label={title[page()]} tabindex="0">
        <Switch>
          <Match when={page() === 'screen'}>
            <Choice
              label={w('settings.distance')}
              options={distances.map((value) => ({ value, label: w('settings.metres', { metres: value }) }))}
              value={app.preferences().distance}
              onChoose={(distance) => app.prefer({ distance })}
            />
            <Choice
              label={w('settings.theme')}
              options={[
                { value: 'dark' as const, label: w('settings.dark') },
                { value: 'light' as const, label: w('settings.light') },
              ]}
              value={app.preferences().theme}
              onChoose={(theme) => app.prefer({ theme })}
            />
            <LanguageChoice />
            <Calibration />
          </Match>
          <Match when={page() === 'sizes'}>
            <Sizes />
          </Match>
          <Match when={page() === 'privacy'}>
            <Privacy />
          </Match>
          <Match when={page() === 'department'}>
            <Department />
          </Match>
          <Match when={page() === 'sources'}>
            <Sources />
          </Match>
          <Match when={page() === 'about'}>
            <About />
          </Match>
        </Switch>
      </section>
    </main>
  );
}
