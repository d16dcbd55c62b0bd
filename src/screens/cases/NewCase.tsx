import { Show, createSignal } from 'solid-js';
import { boneName } from '../../../content/names.ts';
import { constructs, sides } from '../../../content/ids.ts';
import type { EntryDraft } from '../../../machines/entry.ts';
import { inZone } from '../../../machines/time.ts';
import { ownZone } from '../../device/clock.ts';
import { Choice } from '../../parts/Choice.tsx';
import { NumberPad } from '../../parts/NumberPad.tsx';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { useApp } from '../app.ts';
import { sideWord } from './side-word.ts';
import { outcomeWords } from '../failure-words.ts';

type Opening = Extract<EntryDraft, { type: 'case-opened' }>;
type Asked = Partial<Omit<Opening, 'type' | 'zone'>>;

const months = [3, 6, 12, 18, 24, 60, 120];

/** Opens a case. Label, side, bone and construct are asked; nothing is chosen beforehand, the side least of all. */
export function NewCase(props: { onClose: () => void }) {
  const app = useApp();
  const { w } = app;
  const [asked, setAsked] = createSignal<Asked>({});
  const [otherBone, setOtherBone] = createSignal(false);
  const [pad, setPad] = createSignal<'months' | 'years' | null>(null);
  const [refused, setRefused] = createSignal<string | null>(null);
  createLayoutGuard(() => `${otherBone()} ${pad()}`);
  const give = (more: Asked) => setAsked((before) => ({ ...before, ...more }));
  const constructLabel = { plate: w('cases.plate'), nail: w('cases.nail'), screws: w('cases.screws') };
  const placedLabel = {
    'same-team': w('cases.same-team'),
    'other-team': w('cases.other-team'),
    unknown: w('cases.team-unknown'),
  };
  const offer = () => {
    const { date, time } = inZone(app.tick(), ownZone());
    return w('cases.label-offer', { date, time: time.slice(0, 5) });
  };
  const opening = (): Opening | null => {
    const { label, side, bone, construct, planned = '', urgency, placedBy, placedMonthsAgo } = asked();
    if (!label?.trim() || !side || !bone?.trim() || !construct) return null;
    return {
      type: 'case-opened',
      label: label.trim(),
      zone: ownZone(),
      side,
      bone: bone.trim(),
      construct,
      planned: planned.trim(),
      ...(urgency !== undefined && { urgency }),
      ...(placedBy !== undefined && { placedBy }),
      ...(placedMonthsAgo !== undefined && { placedMonthsAgo }),
    };
  };
  const lacking = () => {
    const { label, side, bone, construct } = asked();
    const missing = [
      ...(label?.trim() ? [] : [w('cases.lack-label')]),
      ...(side ? [] : [w('cases.lack-side')]),
      ...(bone?.trim() ? [] : [w('cases.lack-bone')]),
      ...(construct ? [] : [w('cases.lack-construct')]),
    ];
    return missing.length > 0 ? w('cases.still-lacking', { what: missing.join(', ') }) : undefined;
  };
  /** Months that are offered, with what was entered besides. */
  const ages = () => [
    ...new Set([...months, ...(asked().placedMonthsAgo === undefined ? [] : [asked().placedMonthsAgo ?? 0])]),
  ];
  /** In months, and in years where they are whole or half ones. */
  const ageLabel = (value: number) =>
    value >= 12 && value % 6 === 0
      ? w('cases.months-years', { months: value, years: value / 12 })
      : w('cases.months', { months: value });
  const open = async () => {
    const draft = opening();
    if (!draft) return;
    const outcome = await app.session.create(draft);
    setRefused(outcome.ok ? null : outcomeWords(w, outcome.reason));
    if (outcome.ok) app.go('briefing');
  };

  return (
    <Sheet page title={w('cases.new')} close={w('cases.back')} onClose={() => props.onClose()}>
      <Show
        when={!pad()}
        fallback={
          <NumberPad
            label={w(pad() === 'years' ? 'cases.years-ago' : 'cases.months-ago')}
            unit={w(pad() === 'years' ? 'cases.years-unit' : 'cases.months-unit')}
            value={null}
            decimals={pad() === 'years' ? 1 : 0}
            min={0}
            max={pad() === 'years' ? 75 : 900}
            words={{
              done: w('cases.done'),
              back: w('cases.rub-out'),
              unknown: w('cases.not-known'),
              range: w(pad() === 'years' ? 'cases.years-range' : 'cases.months-range'),
            }}
            onDone={(value) => {
              const months = value === null ? undefined : Math.round(pad() === 'years' ? value * 12 : value);
              setPad(null);
              give({ placedMonthsAgo: months });
            }}
          />
        }
      >
        <div class="new-case scrolls">
          <div class="new-asked">
            <TextEntry
              label={w('cases.label-ask')}
              value={asked().label ?? ''}
              rows={1}
              hint={w('cases.own-words')}
              offers={asked().label ? [] : [offer()]}
              onInput={(label) => give({ label })}
            />
            <Choice
              label={w('cases.side-ask')}
              options={sides.map((value) => ({ value, label: sideWord(w, value), consequential: true }))}
              value={asked().side ?? null}
              onChoose={(side) => give({ side })}
            />
            <Choice
              label={w('cases.construct-ask')}
              options={constructs.map((value) => ({ value, label: constructLabel[value] }))}
              value={asked().construct ?? null}
              onChoose={(construct) => give({ construct })}
            />
            <Choice
              label={w('cases.bone-ask')}
              options={[
                ...app.content().bones.map(({ id }) => ({ value: id, label: boneName(app.content(), id) })),
                { value: '', label: w('cases.other-bone') },
              ]}
              value={otherBone() ? '' : (asked().bone ?? null)}
              onChoose={(bone) => {
                setOtherBone(bone === '');
                give({ bone: bone === '' ? undefined : bone });
              }}
            />
            <Show when={otherBone()}>
              <TextEntry
                label={w('cases.bone-which')}
                value={asked().bone ?? ''}
                rows={1}
                hint={w('cases.bone-words')}
                onInput={(bone) => give({ bone })}
              />
            </Show>
          </div>
          <div class="new-may">
            <TextEntry
              label={w('cases.planned-ask')}
              value={asked().planned ?? ''}
              rows={2}
              hint={w('cases.own-words')}
              offers={asked().planned ? [] : [w('cases.planned-all'), w('cases.planned-some')]}
              onInput={(planned) => give({ planned })}
            />
            <Choice
              label={w('cases.placed-by-ask')}
              options={(['same-team', 'other-team', 'unknown'] as const).map((value) => ({
                value,
                label: placedLabel[value],
              }))}
              value={asked().placedBy ?? null}
              onChoose={(placedBy) => give({ placedBy })}
            />
            <Choice
              label={w('cases.months-ago-ask')}
              options={[
                ...ages().map((value) => ({ value, label: ageLabel(value) })),
                { value: -1, label: w('cases.other-months') },
                { value: -2, label: w('cases.other-years') },
              ]}
              value={asked().placedMonthsAgo ?? null}
              onChoose={(value) =>
                value < 0 ? setPad(value === -1 ? 'months' : 'years') : give({ placedMonthsAgo: value })
              }
            />
            <Choice
              label={w('cases.urgency-ask')}
              options={[w('cases.planned-surgery'), w('cases.urgent'), w('cases.emergency')].map((value) => ({
                value,
                label: value,
              }))}
              value={asked().urgency ?? null}
              onChoose={(urgency) => give({ urgency })}
            />
          </div>
        </div>
        <div class="new-end">
          <Show when={refused()}>{(reason) => <p class="refused">{w('cases.refused', { reason: reason() })}</p>}</Show>
          <Touch onAct={() => void open()} closed={lacking()}>
            <span>
              {opening()
                ? w('cases.open-as', {
                    side: sideWord(w, opening()!.side),
                    bone: boneName(app.content(), opening()!.bone),
                  })
                : w('cases.open')}
            </span>
          </Touch>
        </div>
      </Show>
    </Sheet>
  );
}
