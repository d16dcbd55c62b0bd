import { For, Match, Switch, createSignal } from 'solid-js';
import type { Fault } from '../../../machines/entry.ts';
import { download } from '../../device/share.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { readToolSet, setOf, toolSetFile, toolSets, withSet, type ToolSet } from '../../session/tool-sets.ts';
import { useApp } from '../app.ts';
import { FilePick } from '../../parts/FilePick.tsx';
import { Faults } from '../Faults.tsx';
import { measuresOf } from './tool-words.ts';
import { listed } from '../../format/lists.ts';
import { failureWords } from '../failure-words.ts';

type Page = { kind: 'list' | 'save' } | { kind: 'set' | 'rename' | 'remove'; name: string };

/** The sets of tools that this department owns: saved, renamed, removed, handed on and brought in. */
export function ToolSets(props: { onClose: () => void }) {
  const app = useApp();
  const { w } = app;
  const [page, setPage] = createSignal<Page>({ kind: 'list' });
  const [name, setName] = createSignal('');
  const [said, setSaid] = createSignal('');
  const [faults, setFaults] = createSignal<readonly Fault[]>([]);
  createLayoutGuard(() => `${page().kind} ${faults().length}`);
  const sets = () => toolSets().value();
  const room = () => app.open()?.folded.case.context.room.tools ?? [];
  const selected = (): ToolSet | undefined => {
    const now = page();
    return 'name' in now ? sets().find((set) => set.name === now.name) : undefined;
  };
  const change = async (next: (sets: readonly ToolSet[]) => readonly ToolSet[], done: string) => {
    const kept = await toolSets().change(next);
    setFaults([]);
    setSaid(kept.ok ? done : w('plan.not-kept', { why: failureWords(w, kept.reason) }));
    if (kept.ok) setPage({ kind: 'list' });
  };
  const bring = (bytes: Uint8Array) => {
    const read = readToolSet(bytes);
    if ('set' in read)
      return void change((kept) => withSet(kept, read.set), w('plan.set-taken', { name: read.set.name }));
    setSaid('');
    setFaults(read.faults);
  };
  const why = () => {
    const typed = name().trim();
    if (typed === '') return w('plan.nothing-typed');
    if (typed.length > 60) return w('plan.name-long');
    const now = page();
    const own = 'name' in now ? now.name : null;
    return sets().some((set) => set.name === typed && set.name !== own) ? w('plan.name-taken') : undefined;
  };
  const toolWord = (tool: ToolSet['tools'][number]) => {
    const label = app.content().phrases.tools[tool.tool].label;
    const measures = measuresOf(app, tool);
    return measures ? `${label} (${measures})` : label;
  };
  const open = (to: Page, typed = '') => {
    setName(typed);
    setSaid('');
    setPage(to);
  };
  const entry = (done: string, act: () => void) => (
    <>
      <TextEntry label={w('plan.set-name')} value={name()} rows={1} onInput={setName} />
      <div class="choice-row">
        <Touch onAct={act} closed={why()}>
          {done}
        </Touch>
        <Touch onAct={() => open({ kind: 'list' })}>{w('plan.leave-as-it-is')}</Touch>
      </div>
    </>
  );
  return (
    <Sheet title={w('plan.sets')} close={w('plan.back')} onClose={() => props.onClose()}>
      <div class="question">
        <p role="status">{said()}</p>
        <Faults faults={faults()} />
        <Switch>
          <Match when={page().kind === 'list'}>
            <p class="small soft">{w('plan.sets-lead')}</p>
            <div class="choice-row">
              <For each={sets()}>
                {(set) => (
                  <Touch onAct={() => open({ kind: 'set', name: set.name })}>
                    {set.name}
                    <small>{w('plan.set-tools', { count: set.tools.length })}</small>
                  </Touch>
                )}
              </For>
            </div>
            <div class="choice-row">
              <Touch
                onAct={() => open({ kind: 'save' })}
                closed={room().length === 0 ? w('plan.room-empty') : undefined}
              >
                {w('plan.set-save')}
              </Touch>
              <FilePick label={w('plan.set-bring')} onBytes={bring} />
            </div>
          </Match>
          <Match when={page().kind === 'save'}>
            {entry(w('plan.set-save-done'), () => {
              const set = setOf(name(), room());
              void change((kept) => withSet(kept, set), w('plan.set-saved', { name: set.name }));
            })}
          </Match>
          <Match when={page().kind === 'set' && selected()}>
            {(set) => (
              <>
                <h3>{set().name}</h3>
                <p>{listed(set().tools.map(toolWord))}</p>
                <div class="choice-row">
                  <Touch onAct={() => open({ kind: 'rename', name: set().name }, set().name)}>
                    {w('plan.set-rename')}
                  </Touch>
                  <Touch onAct={() => setSaid(download(toolSetFile(set())).ok ? w('plan.handed') : '')}>
                    {w('plan.set-file')}
                  </Touch>
                  <Touch onAct={() => open({ kind: 'list' })}>{w('plan.to-sets')}</Touch>
                </div>
                <div class="forecast-apart">
                  <Touch consequential apart="block" onAct={() => open({ kind: 'remove', name: set().name })}>
                    {w('plan.set-remove')}
                  </Touch>
                </div>
              </>
            )}
          </Match>
          <Match when={page().kind === 'rename' && selected()}>
            {(set) => (
              <>
                {entry(w('plan.set-rename-done'), () => {
                  const [was, typed] = [set().name, name().trim()];
                  void change(
                    (kept) => kept.map((one) => (one.name === was ? { ...one, name: typed } : one)),
                    w('plan.set-saved', { name: typed }),
                  );
                })}
              </>
            )}
          </Match>
          <Match when={page().kind === 'remove' && selected()}>
            {(set) => (
              <>
                <p>{w('plan.set-remove-ask', { name: set().name })}</p>
                <div class="choice-row">
                  <Touch onAct={() => open({ kind: 'set', name: set().name })}>{w('plan.set-keep')}</Touch>
                  <Touch
                    consequential
                    onAct={() => {
                      const was = set().name;
                      void change(
                        (kept) => kept.filter((one) => one.name !== was),
                        w('plan.set-removed', { name: was }),
                      );
                    }}
                  >
                    {w('plan.set-remove-yes')}
                  </Touch>
                </div>
              </>
            )}
          </Match>
        </Switch>
      </div>
    </Sheet>
  );
}
