import { For, Show, createResource, createSignal } from 'solid-js';
import { stepBetween } from '../../content/carry.ts';
import { fetchReleases } from '../../content/later.ts';
import type { OverlayFile } from '../../content/overlay.types.ts';
import type { Fault } from '../../machines/entry.ts';
import { inZone } from '../../machines/time.ts';
import { ownZone } from '../device/clock.ts';
import { download } from '../device/share.ts';
import { createLayoutGuard } from '../parts/layout-guard.ts';
import { Touch } from '../parts/Touch.tsx';
import { carriedTo, standingOver } from '../session/carried.ts';
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
  const isDraft = ({ base }: OverlayFile) => base.endsWith('-draft');
  const mayNotUse = (overlay: OverlayFile) => {
    if (overlay.version === kept().inUse()?.version) return w('department.in-use');
    // A draft is for invented cases; a real one is opened with what was released.
    return isDraft(overlay) ? w('department.draft-only') : why();
  };
  // What lies over a release that comes later can be read once that is here.
  const [fetched] = createResource(() =>
    fetchReleases().then(
      () => true,
      () => false,
    ),
  );
  const versions = () => (fetched(), kept().versions());
  const mayNotCarry = ({ version }: OverlayFile) =>
    versions().some(({ carriedFrom }) => carriedFrom === version) ? w('department.is-carried') : why();
  const carry = async (overlay: OverlayFile) => {
    const stands = await standingOver(overlay);
    if (stands.state === 'refused')
      return say(
        w('department.no-place', { version: overlay.version, to: carriedTo, count: stands.faults.length }),
        stands.faults,
      );
    if (stands.state === 'not-here') return say(w('department.not-here', { to: carriedTo }));
    keep(
      stands.overlay,
      w('department.carried', { version: overlay.version, to: carriedTo, as: stands.overlay.version }),
    );
  };
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
        <Show when={versions().length > 0}>
          <h2>{w('department.versions')}</h2>
        </Show>
        <ul class="versions">
          <For each={[...versions()].reverse()}>
            {(overlay) => (
              <li>
                <p>
                  <b class="figure">{overlay.version}</b>{' '}
                  <Show when={overlay.version === kept().inUse()?.version}>
                    <span class="said-mark">{w('department.in-use')}</span>
                  </Show>
                </p>
                <Show when={overlay.carriedFrom}>
                  {(version) => <p class="small">{w('department.carried-from', { version: version() })}</p>}
                </Show>
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
                  <Show when={stepBetween(overlay.base, carriedTo)}>
                    <Touch
                      label={
                        mayNotCarry(overlay)
                          ? undefined
                          : w('department.carry-of', { version: overlay.version, to: carriedTo })
                      }
                      onAct={() => void carry(overlay)}
                      closed={mayNotCarry(overlay)}
                    >
                      {w('department.carry', { to: carriedTo })}
                    </Touch>
                  </Show>
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
