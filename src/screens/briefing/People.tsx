import { For, Show, createSignal } from 'solid-js';
import { roles, type Role } from '../../../content/ids.ts';
import { Choice } from '../../parts/Choice.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { useApp } from '../app.ts';
import type { StepProps } from './step.ts';

/** Who is in the room, by role. Initials are enough, and so is a role without a name. */
export function People(props: { put: StepProps['put'] }) {
  const app = useApp();
  const { w } = app;
  const [role, setRole] = createSignal<Role | null>(null);
  const [who, setWho] = createSignal('');
  createLayoutGuard(() => role());
  const word: Record<Role, string> = {
    surgeon: w('briefing.role.surgeon'),
    assistant: w('briefing.role.assistant'),
    anaesthetist: w('briefing.role.anaesthetist'),
    scrub: w('briefing.role.scrub'),
    circulating: w('briefing.role.circulating'),
    other: w('briefing.role.other'),
  };
  const people = () => app.open()?.folded.case.context.people ?? [];
  const why = () => (who().trim() ? undefined : w('briefing.nothing-typed'));
  const enter = async (name: string) => {
    const chosen = role();
    if (chosen && (await props.put({ type: 'person-listed', role: chosen, who: name }))) {
      setWho('');
      setRole(null);
    }
  };
  return (
    <>
      <ul>
        <For each={people()} fallback={<li class="soft">{w('briefing.not-recorded')}</li>}>
          {(person) => (
            <li>
              <span class="soft">{word[person.role]}</span> <b>{person.who}</b>
            </li>
          )}
        </For>
      </ul>
      <Choice
        label={w('briefing.who-is-here')}
        options={roles.map((value) => ({ value, label: word[value] }))}
        value={role()}
        onChoose={setRole}
      />
      <Show when={role()}>
        {(chosen) => (
          <div class="person-entry">
            <TextEntry
              label={w('briefing.who', { role: word[chosen()] })}
              value={who()}
              rows={1}
              onInput={(text) => setWho(text)}
            />
            <div class="choice-row">
              <Touch onAct={() => void enter(who().trim())} closed={why()}>
                {w('briefing.enter')}
              </Touch>
              <Touch onAct={() => void enter(w('briefing.present-unnamed'))}>{w('briefing.present-no-name')}</Touch>
            </div>
          </div>
        )}
      </Show>
    </>
  );
}
