import { For, Match, Show, Switch, createSignal } from 'solid-js';
import type { Entry, EntryDraft } from '../../../machines/entry.ts';
import { epoch, inZone } from '../../../machines/time.ts';
import { attemptsOf } from '../../../machines/trace.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Choice } from '../../parts/Choice.tsx';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { outcomeWords } from '../failure-words.ts';
import { sayEntry } from './said.ts';
import type { Table } from './state.ts';

/** One of two stories: the entry that contradicts, and the start of its move where it has one. */
interface Story {
  entry: Entry;
  start: Entry | null;
}

/** What is entered again: an entry without its place in the log. */
function draftOf({ n: _n, at: _at, logged: _logged, seal: _seal, typed: _typed, ...draft }: Entry): EntryDraft {
  return draft;
}

/**
 * Two entries of a screw that cannot both be true, in words, one under the other. Of each it can be said that its time
 * was wrong, that it was of another screw, or that it was wrong altogether; nothing is erased by it.
 */
export function ConflictSheet(props: { table: Table }) {
  const app = useApp();
  const { w } = app;
  const [asked, setAsked] = createSignal<{ story: Story; what: 'time' | 'screw' } | null>(null);
  createLayoutGuard(() => asked()?.what);
  const conflict = () => app.open()?.folded.conflicts[0];
  const stories = (): Story[] => {
    const open = app.open();
    if (!open) return [];
    const attempts = attemptsOf(open.folded.trace);
    return (conflict()?.entries ?? []).flatMap((n) => {
      const entry = open.entries[n - 1];
      return entry ? [{ entry, start: attempts.find(({ end }) => end?.n === n)?.start ?? null }] : [];
    });
  };
  const zone = () => app.open()?.folded.case.context.room.opened?.zone ?? 'UTC';
  const say = (entry: Entry) => {
    const open = app.open();
    return open ? sayEntry(entry, open.folded) : '';
  };
  const other = (story: Story) => conflict()?.entries.find((n) => n !== story.entry.n) ?? 0;
  /** The end first: a start that is struck leaves nothing that it ends. */
  const numbers = ({ entry, start }: Story) => [entry.n, ...(start ? [start.n] : [])];
  const strike = (story: Story, reason: string) =>
    props.table.record(...numbers(story).map((entry): EntryDraft => ({ type: 'struck', entry, reason })));
  const wrong = async (story: Story) => {
    const { ok } = await strike(story, w('conflict.reason.wrong', { n: other(story) }));
    if (ok) props.table.home();
  };
  const wasOf = async ({ entry, start }: Story, screw: string) => {
    const entries = [...(start ? [start.n] : []), entry.n];
    if ((await props.table.record({ type: 'reassigned', entries, screw })).ok) props.table.home();
  };
  /** The story is told again with its move as long as before, and the one with the wrong time is struck. */
  const endedAgo = async (story: Story, minutes: number) => {
    const { entry, start } = story;
    if (!(await strike(story, w('conflict.reason.time'))).ok) return;
    const length = start ? (epoch(entry.at) - epoch(start.at)) / 60_000 : 0;
    const begun = start && (await app.session.record(draftOf(start), { minutesAgo: minutes + length }));
    const again = { ...draftOf(entry), ...(begun?.ok && { start: begun.entry.n }) } as EntryDraft;
    const ended = begun && !begun.ok ? begun : await app.session.record(again, { minutesAgo: minutes });
    props.table.home();
    if (!ended.ok) props.table.setProblem(outcomeWords(w, ended.reason, 'table.cannot'));
  };
  const screws = () => Object.keys(app.view()?.screws ?? {}).filter((id) => id !== conflict()?.screw);
  const back = () => (asked() ? setAsked(null) : props.table.home());
  return (
    <Sheet title={w('conflict.title', { screw: conflict()?.screw ?? '' })} close={w('table.back')} onClose={back}>
      <Switch>
        <Match when={asked()?.what === 'time' ? asked() : null}>
          {(now) => (
            <>
              <p>{say(now().story.entry)}</p>
              <Choice
                label={w('conflict.when')}
                options={[2, 5, 10, 20].map((value) => ({ value, label: w('when.ago', { minutes: value }) }))}
                onChoose={(minutes) => void endedAgo(now().story, minutes)}
              />
              <NumberPad
                label={w('when.at')}
                unit={w('when.unit')}
                value={null}
                decimals={0}
                min={1}
                max={720}
                words={{ done: w('when.use'), back: w('pad.back'), range: w('when.range') }}
                onDone={(minutes) => minutes !== null && void endedAgo(now().story, minutes)}
              />
            </>
          )}
        </Match>
        <Match when={asked()?.what === 'screw' ? asked() : null}>
          {(now) => (
            <>
              <p>{say(now().story.entry)}</p>
              <Choice
                label={w('conflict.which')}
                options={screws().map((value) => ({ value, label: w('wrong.was', { screw: value }) }))}
                onChoose={(screw) => void wasOf(now().story, screw)}
              />
            </>
          )}
        </Match>
        <Match when={true}>
          <For each={stories()} fallback={<p>{w('conflict.none')}</p>}>
            {(story) => (
              <div
                class="choice"
                role="group"
                aria-label={w('conflict.entry', { n: story.entry.n, time: inZone(epoch(story.entry.at), zone()).time })}
              >
                <b class="figure">
                  {w('conflict.entry', { n: story.entry.n, time: inZone(epoch(story.entry.at), zone()).time })}
                </b>
                <p>{say(story.entry)}</p>
                <div class="choice-row">
                  <Touch onAct={() => setAsked({ story, what: 'time' })}>{w('conflict.time')}</Touch>
                  <Show when={screws().length > 0}>
                    <Touch onAct={() => setAsked({ story, what: 'screw' })}>{w('conflict.screw')}</Touch>
                  </Show>
                  <Touch onAct={() => void wrong(story)}>{w('conflict.wrong')}</Touch>
                </div>
              </div>
            )}
          </For>
        </Match>
      </Switch>
    </Sheet>
  );
}
