import { For, Show, createSignal } from 'solid-js';
import type { MoveId } from '../../../content/ids.ts';
import { Choice } from '../../parts/Choice.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { fieldsOf, oneLine, wordGroups, wordOf, type Edit, type WordGroup } from './draft.ts';
import { FieldFaults } from './Faults.tsx';
import { Lines } from './LinesPart.tsx';

/** Words of the department in the place of released ones; with `only` one group of them. */
export function WordsPart(props: { edit: Edit; only?: WordGroup }) {
  const { w } = useApp();
  const [group, setGroup] = createSignal<WordGroup>('moves');
  const [asked, setAsked] = createSignal<string | null>(null);
  createLayoutGuard(() => `${group()} ${asked()}`);
  const shown = () => props.only ?? group();
  const ids = () => Object.keys(props.edit.release.phrases[shown()]);
  const path = (id: string, field?: string) => {
    const at = `phrases.${props.edit.language}.${shown()}.${id}`;
    return field === undefined || shown() === 'drives' ? at : `${at}.${field}`;
  };
  return (
    <Show
      when={asked()}
      fallback={
        <>
          <Show when={props.only === undefined}>
            <Choice
              label={w('department.words-of')}
              options={wordGroups
                .filter((value) => value !== 'consent')
                .map((value) => ({ value, label: w(`department.group.${value}`) }))}
              value={group()}
              onChoose={setGroup}
            />
          </Show>
          <div class="figure-cards">
            <For each={ids()}>
              {(id) => (
                <div>
                  <Touch size="card" onAct={() => setAsked(id)}>
                    <span>{props.edit.word(shown(), id, 'label')}</span>
                    <small>
                      {props.edit.ownWords(shown(), id) ? w('department.own-words') : w('department.as-released')}
                    </small>
                  </Touch>
                  <FieldFaults faults={props.edit.faultsAt(path(id))} />
                </div>
              )}
            </For>
          </div>
        </>
      }
    >
      {(id) => (
        <>
          <h2>{wordOf(props.edit.release, shown(), id(), 'label')}</h2>
          <For each={fieldsOf[shown()]}>
            {(field) => (
              <div>
                <TextEntry
                  label={w(`department.field.${field}`)}
                  value={props.edit.word(shown(), id(), field)}
                  rows={field === 'help' ? 3 : 1}
                  onInput={(text) => props.edit.setWord(shown(), id(), field, oneLine(text))}
                />
                <p class="small soft">
                  {w('department.released-is', { value: wordOf(props.edit.release, shown(), id(), field) })}
                </p>
                <FieldFaults faults={props.edit.faultsAt(path(id(), field))} />
              </div>
            )}
          </For>
          <Show when={shown() === 'moves'}>
            <MoveCautions edit={props.edit} move={id() as MoveId} />
          </Show>
          <div class="choice-row">
            <Touch onAct={() => setAsked(null)}>{w('department.done')}</Touch>
            <Touch
              onAct={() => {
                for (const field of fieldsOf[shown()])
                  props.edit.setWord(shown(), id(), field, wordOf(props.edit.release, shown(), id(), field));
              }}
              closed={props.edit.ownWords(shown(), id()) ? undefined : w('department.as-released')}
            >
              {w('department.to-released')}
            </Touch>
          </div>
        </>
      )}
    </Show>
  );
}

/** Cautions of one move: those of the release stand, the department's own come behind them. */
function MoveCautions(props: { edit: Edit; move: MoveId }) {
  const { w } = useApp();
  const all = () => props.edit.draft().cautions?.moves ?? {};
  const own = () => all()[props.move] ?? [];
  const set = (texts: readonly string[]) => {
    const { [props.move]: _, ...rest } = all();
    const rows = texts.map((text) => own().find((row) => row.text === text) ?? { text });
    props.edit.change({
      cautions: { ...props.edit.draft().cautions, moves: rows.length > 0 ? { ...rest, [props.move]: rows } : rest },
    });
  };
  return (
    <Lines
      label={w('department.cautions-added')}
      fixed={props.edit.release.moves.find(({ id }) => id === props.move)?.cautions.map(({ text }) => text) ?? []}
      lines={own().map(({ text }) => text)}
      faults={props.edit.faultsAt(`cautions.moves.${props.move}`)}
      onChange={set}
    />
  );
}
