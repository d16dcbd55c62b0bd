import { For, Show, createSignal } from 'solid-js';
import type { OverlayFile } from '../../content/overlay.types.ts';
import type { Fault } from '../../machines/entry.ts';
import { inZone } from '../../machines/time.ts';
import { ownZone } from '../device/clock.ts';
import { download } from '../device/share.ts';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { Touch } from '../parts/Touch.tsx';
import { departmentFile, readDepartmentFile } from '../session/department-file.ts';
import { department, type Department as Kept } from '../session/department.ts';
import { useApp } from './app.ts';
import { Changes } from './department/Changes.tsx';
import { Editor } from './department/Editor.tsx';
import { FilePick } from '../parts/FilePick.tsx';
import { Faults } from './Faults.tsx';
import './department.css';
import { failureWords } from './failure-words.ts';

/**
 * The department's own content: which version new cases are opened with, how it differs from the release, and the work
 * on the next one. A version is never changed; a case that is open keeps the one it was opened with.
 */
export function Department(props: { kept?: Kept }) {
  const app = useApp();
  const { w } = app;
  const kept = () => props.kept ?? department();
  const [editing, setEditing] = createSignal(false);
  const [looked, setLooked] = createSignal<string | null>(null);
  const [told, setTold] = createSignal('');
  const [faults, setFaults] = createSignal<readonly Fault[]>([]);
  createLayoutGuard(() => `${editing()} ${looked()} ${faults().length} ${kept().versions().length}`);

  const why = () => {
    if (!app.writer()) return w('cases.follows');
    return app.open() ? w('department.in-case') : undefined;
  };
  const say = (words: string, bad: readonly Fault[] = []) => {
    setTold(words);
    setFaults(bad);
  };
  const begin = () => {
    say('');
    setEditing(true);
  };
  const keep = (overlay: OverlayFile, done: string) => {
    const sent = kept().keep(overlay);
    say(sent.ok ? done : w('department.not-kept', { why: failureWords(w, sent.reason) }));
    if (sent.ok) setLooked(overlay.version);
    return sent.ok;
  };
  const save = (overlay: OverlayFile) => {
    if (keep(overlay, w('department.saved', { version: overlay.version }))) setEditing(false);
  };
  const bring = (bytes: Uint8Array) => {
    const read = readDepartmentFile(bytes);
    if ('faults' in read) return say('', read.faults);
    keep(read.overlay, w('department.brought', { version: read.overlay.version }));
  };
  const use = (version: string | null) => {
    const sent = kept().use(version);
    const done = version ? w('department.now-used', { version }) : w('department.now-released');
    say(sent.ok ? done : w('department.not-kept', { why: failureWords(w, sent.reason) }));
  };
  const mayNotUse = ({ version }: OverlayFile) =>
    version === kept().inUse()?.version ? w('department.in-use') : why();
  const hand = (overlay: OverlayFile) => {
    const file = departmentFile(overlay);
    const sent = download(file);
    say(
      sent.ok
        ? w('department.handed', { name: file.name })
        : w('department.not-kept', { why: failureWords(w, sent.reason) }),
    );
  };
  return (
    <div class="department">
      <p role="status">{told()}</p>
      <Faults faults={faults()} />
      <Show
        when={!editing()}
        fallback={
          <Editor
            kept={kept()}
            today={inZone(app.tick(), ownZone()).date}
            onSave={save}
            onGiveUp={() => setEditing(false)}
          />
        }
      >
        <Show when={kept().unreadable()}>
          {(version) => (
            <p>
              <b>{w('department.unreadable', { version: version() })}</b>
            </p>
          )}
        </Show>
        <p>
          <b>{w('department.new-cases', { version: kept().content().version })}</b>
        </p>
        <Show when={kept().inUse()} fallback={<p>{w('department.none')}</p>}>
          {(overlay) => (
            <p>
              {w('department.about', { name: overlay().name, date: overlay().changedOn, reason: overlay().reason })}
            </p>
          )}
        </Show>
        <p class="small soft">{w('department.lead')}</p>
        <div class="choice-row">
          <Touch onAct={begin} closed={why()}>
            {w('department.change')}
          </Touch>
          <FilePick label={w('department.bring')} onBytes={bring} closed={why()} />
        </div>
        <div class="choice-row department-apart">
          <Touch
            consequential
            onAct={() => use(null)}
            closed={kept().inUse() || kept().unreadable() ? why() : w('department.none')}
          >
            {w('department.off')}
          </Touch>
        </div>
        <Show when={kept().versions().length > 0}>
          <h2>{w('department.versions')}</h2>
        </Show>
        <ul class="versions">
          <For each={[...kept().versions()].reverse()}>
            {(overlay) => (
              <li>
                <p>
                  <b class="figure">{overlay.version}</b>{' '}
                  <Show when={overlay.version === kept().inUse()?.version}>
                    <span class="said-mark">{w('department.in-use')}</span>
                  </Show>
                </p>
                <p class="small">
                  {w('department.about', { name: overlay.name, date: overlay.changedOn, reason: overlay.reason })}
                </p>
                <Show when={looked() === overlay.version}>
                  <Changes overlay={overlay} />
                </Show>
                <div class="choice-row">
                  <Touch
                    pressed={looked() === overlay.version}
                    label={w('department.look-of', { version: overlay.version })}
                    onAct={() => setLooked((now) => (now === overlay.version ? null : overlay.version))}
                  >
                    {w('department.look')}
                  </Touch>
                  <Touch label={w('department.file-of', { version: overlay.version })} onAct={() => hand(overlay)}>
                    {w('department.file')}
                  </Touch>
                </div>
                <div class="choice-row department-apart">
                  <Touch
                    consequential
                    label={mayNotUse(overlay) ? undefined : w('department.use-of', { version: overlay.version })}
                    onAct={() => use(overlay.version)}
                    closed={mayNotUse(overlay)}
                  >
                    {w('department.use')}
                  </Touch>
                </div>
              </li>
            )}
          </For>
        </ul>
      </Show>
    </div>
  );
}
