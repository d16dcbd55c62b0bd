import { For, createSignal } from 'solid-js';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { oneLine, type Edit } from './draft.ts';
import { FieldFaults } from './Faults.tsx';

/** Letters of an id at most, with room left for a number behind it. */
const longest = 36;

/**
 * The id of a consent point of the department's own, after its words; numbered where it is taken, or no letter is left.
 *
 * @example ownPointId('Wound may heal slowly', []) // 'own-wound-may-heal-slowly'
 * @example ownPointId('Wound may heal slowly', ['own-wound-may-heal-slowly']) // 'own-wound-may-heal-slowly-2'
 */
export function ownPointId(label: string, taken: readonly string[]): string {
  const plain = label.normalize('NFKD').replace(/ß/g, 'ss').replace(/\p{M}/gu, '').toLowerCase();
  const words = plain
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-/, '')
    .slice(0, longest - 'own-'.length)
    .replace(/-$/, '');
  const id = `own-${words || 'point'}`;
  for (let n = 1; ; n++) {
    const numbered = n === 1 ? id : `${id}-${n}`;
    if (!taken.includes(numbered)) return numbered;
  }
}

/** Consent points that the department asks besides those of the release: added in its own words, and taken away again. */
export function OwnPoints(props: { edit: Edit }) {
  const { w } = useApp();
  const [label, setLabel] = createSignal('');
  const [help, setHelp] = createSignal('');
  const points = () => props.edit.draft().consent ?? [];
  createLayoutGuard(() => points().length);
  const typed = () => oneLine(label()).trim();
  const said = () => oneLine(help()).trim();
  const why = () => {
    if (typed() === '' || said() === '') return w('department.nothing-typed');
    return points().some((point) => point.label === typed()) ? w('department.there-already') : undefined;
  };
  const add = () => {
    const id = ownPointId(
      typed(),
      points().map((point) => point.id),
    );
    props.edit.change({ consent: [...points(), { id, label: typed(), help: said() }] });
    setLabel('');
    setHelp('');
  };
  return (
    <section class="lines" aria-label={w('department.own-points')}>
      <h2>{w('department.own-points')}</h2>
      <ul class="own-lines">
        <For each={points()}>
          {(point) => (
            <li>
              <span>
                <b>{point.label}</b> {point.help}
              </span>
              <Touch
                label={w('department.take-away-of', { line: point.label })}
                onAct={() => props.edit.change({ consent: points().filter(({ id }) => id !== point.id) })}
              >
                {w('department.take-away')}
              </Touch>
            </li>
          )}
        </For>
      </ul>
      <FieldFaults faults={props.edit.faultsAt('consent')} />
      <TextEntry label={w('department.own-point')} value={label()} rows={1} onInput={setLabel} />
      <TextEntry label={w('department.own-point-help')} value={help()} rows={2} onInput={setHelp} />
      <div class="choice-row">
        <Touch onAct={add} closed={why()}>
          {w('department.add')}
        </Touch>
      </div>
    </section>
  );
}
