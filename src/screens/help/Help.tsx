import { For, createSignal } from 'solid-js';
import type { Stage } from '../../../content/ids.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { ScrewGlyph } from '../../pictures/ScrewGlyph.tsx';
import { useApp } from '../app.ts';
import './help.css';

/** What each step draws: the screw in the states it speaks of. */
const steps: readonly (readonly Stage[])[] = [
  ['seated', 'seated', 'seated', 'seated'],
  ['recess-stripped', 'head-sheared', 'fragment-retained'],
  ['seated', 'out'],
  ['recess-stripped'],
  ['seated', 'recess-stripped', 'head-sheared', 'fragment-retained', 'out', 'left-in'],
  ['out', 'out', 'left-in'],
];

/** The order of the work in six short steps; left by one touch at any of them. */
export function Help(props: { onClose: () => void }) {
  const { w } = useApp();
  const [at, setAt] = createSignal(0);
  createLayoutGuard(at);
  const last = () => at() === steps.length - 1;
  return (
    <Sheet page title={w('plan.help.title')} close={w('plan.help.skip')} onClose={() => props.onClose()}>
      <div class="help">
        <div class="help-drawing">
          <For each={steps[at()] ?? []}>{(stage) => <ScrewGlyph stage={stage} />}</For>
        </div>
        <p class="small soft figure">{w('plan.help.step', { n: at() + 1, count: steps.length })}</p>
        <h1 aria-live="polite">{w(`plan.help.${at() + 1}.title`)}</h1>
        <p>{w(`plan.help.${at() + 1}.text`)}</p>
        <div class="choice-row">
          <Touch onAct={() => setAt(Math.max(0, at() - 1))} closed={at() === 0 ? w('plan.help.first') : undefined}>
            {w('plan.help.before')}
          </Touch>
          <Touch onAct={() => (last() ? props.onClose() : setAt(at() + 1))}>
            {last() ? w('plan.help.end') : w('plan.help.next')}
          </Touch>
        </div>
      </div>
    </Sheet>
  );
}
