import { Show, createSignal } from 'solid-js';
import type { EntryDraft } from '../../../machines/entry.ts';
import { millimetres } from '../../format/figures.ts';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { tipAsked } from './tips.ts';
import type { Table } from './state.ts';

/** A broken tip that was found: how long it is and whether an image was seen, if somebody says so, and if it is all. */
export function TipSheet(props: { table: Table }) {
  const { w, content, open } = useApp();
  const [length, setLength] = createSignal<number | null>(null);
  const [image, setImage] = createSignal(false);
  createLayoutGuard(length);
  const tip = () => {
    const now = open();
    return now ? tipAsked(now.folded) : null;
  };
  const record = async (complete: boolean) => {
    const one = tip();
    if (!one) return;
    const names = { tool: one.tool, tip: one.entry };
    const mm = length();
    const measured = mm === null ? {} : ({ length: mm, lengthHow: 'measured' } as const);
    const drafts: EntryDraft[] = [
      // Not touched is not recorded, never "no".
      ...(image()
        ? [{ type: 'hold-answered', hold: 'find-tip', answer: 'found', ...names, imageTaken: true } as const]
        : []),
      ...(complete || mm !== null
        ? [{ type: 'piece-recovered', ...names, ...measured, ...(complete && { complete }) } as const]
        : []),
      ...(complete
        ? []
        : [
            {
              ...({ type: 'hold-answered', hold: 'find-tip', answer: 'not-found', ...names } as const),
              reason: w('ask.tip-all.rest'),
            },
          ]),
    ];
    if ((await props.table.record(...drafts)).ok) props.table.home();
  };
  return (
    <Show when={tip()}>
      {(one) => (
        <Sheet
          title={w('tip.title', { tool: content().phrases.tools[one().tool].label })}
          close={w('table.back')}
          onClose={() => props.table.home()}
        >
          <div class="choice-row">
            <Touch pressed={image()} onAct={() => setImage(!image())}>
              {w('tip.image')}
            </Touch>
            <Touch onAct={() => void record(true)}>{w('ask.tip-all.yes')}</Touch>
            <Touch onAct={() => void record(false)}>{w('ask.tip-all.no')}</Touch>
            <Show when={length()}>{(mm) => <b class="figure">{w('tip.long', { mm: millimetres(mm()) })}</b>}</Show>
          </div>
          <NumberPad
            label={w('tip.length')}
            unit="mm"
            value={null}
            min={0}
            max={100}
            words={{ done: w('tip.take'), back: w('pad.back'), range: w('tip.range') }}
            onDone={setLength}
          />
        </Sheet>
      )}
    </Show>
  );
}
