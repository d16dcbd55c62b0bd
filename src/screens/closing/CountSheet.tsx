import { For, Match, Show, Switch, createSignal } from 'solid-js';
import { imageFindings, roles, type ImageFinding, type Role } from '../../../content/ids.ts';
import { mayStopLooking } from '../../../machines/stopping.ts';
import { Choice, Group } from '../../parts/Choice.tsx';
import { createLayoutGuard } from '../../parts/layout-guard.ts';
import { Sheet } from '../../parts/Sheet.tsx';
import { TextEntry } from '../../parts/TextEntry.tsx';
import { Touch } from '../../parts/Touch.tsx';
import { localeOf } from '../../record/locales/index.ts';
import { useApp } from '../app.ts';
import { isAnythingOpen, type AccountRow } from './account.ts';
import type { Recorder } from './recorder.ts';
import { partName } from '../part-words.ts';
import { rowName, rowState } from './row-words.ts';
import { Deciders } from '../table/Deciders.tsx';
import { Twice } from './Twice.tsx';

/** What the answer still lacks; null when it is complete. H10: metal missing needs words and an image, without exception. */
export const countLacks = (
  by: readonly Role[],
  missing: boolean,
  words: string,
  image: ImageFinding | null,
  mayNotLook = false,
) =>
  missing && (image === null || (image === 'not-taken' && !mayNotLook))
    ? 'image'
    : missing && words.trim() === ''
      ? 'words'
      : by.length < 2
        ? 'roles'
        : null;

const steps = ['missing', 'words', 'who'] as const;

/** H10: the account of the metal, answered by two roles; what is missing first with an image, then in words. */
export function CountSheet(props: { rows: readonly AccountRow[]; recorder: Recorder; onClose: () => void }) {
  const app = useApp();
  const { w, content } = app;
  /** Who was listed in a role, to know it by. What is entered is the role. */
  const listed = (role: Role) => {
    const people = app.open()?.folded.case.context.people ?? [];
    return [...new Set(people.flatMap((one) => (one.role === role ? [one.who] : [])))].join(', ');
  };
  const roleWord = () => localeOf(content().phrases.language).roles;
  const [by, setBy] = createSignal<readonly Role[]>([]);
  const [words, setWords] = createSignal('');
  const [decides, setDecides] = createSignal<string | undefined>(undefined);
  const [image, setImage] = createSignal<ImageFinding | null>(null);
  /** Work was stopped for a reason that lets nobody look for more. */
  const mayNotLook = () => mayStopLooking(app.open()?.folded.case.context.stopped?.reason ?? null);
  const open = () => props.rows.filter(({ state }) => state !== 'accounted');
  /** Pieces that count as whole although nobody measured them. */
  const unmeasured = () =>
    props.rows
      .filter(({ metal, part }) => part === null && metal.closes === 'assumed')
      .map((row) => rowName(row, w, content()));
  const missing = () => isAnythingOpen(props.rows);
  const [step, setStep] = createSignal<(typeof steps)[number]>('missing');
  createLayoutGuard(step);
  const toggle = (role: Role) =>
    setBy((all) => (all.includes(role) ? all.filter((one) => one !== role) : [...all, role]));
  const why = (what: ReturnType<typeof countLacks>) => (what === null ? undefined : w(`closing.count-lacks.${what}`));
  const lacks = () => why(countLacks(by(), missing(), words(), image(), mayNotLook()));
  const lacksImage = () => (countLacks([], true, '', image(), mayNotLook()) === 'image' ? why('image') : undefined);
  const lacksWords = () => (words().trim() === '' ? why('words') : undefined);
  /** Parts that nobody spoke of. */
  const unspoken = () => props.rows.flatMap(({ part }) => (part !== null && part.end === null ? [part] : []));
  const allOut = async () => {
    for (const { id } of unspoken())
      if (!(await props.recorder.record({ type: 'part-ended', part: id, end: 'out', complete: true }))) return;
  };
  const back = () => {
    const before = missing() ? steps[steps.indexOf(step()) - 1] : undefined;
    if (before) setStep(before);
    else props.onClose();
  };
  const record = async () => {
    const done = await props.recorder.record({
      type: 'count-answered',
      by: [...by()],
      ...(words().trim() !== '' && { discrepancy: words().trim() }),
      ...(missing() && decides() !== undefined && { decidedBy: decides() as string }),
      ...(image() !== null && { image: image() as ImageFinding }),
    });
    if (done) props.onClose();
  };
  return (
    <Sheet title={content().phrases.holds.count.label} close={w('closing.back')} onClose={back}>
      <div class="closing-form">
        <Switch>
          <Match when={missing() && step() === 'missing'}>
            <ul class="count-open">
              <For each={open()}>
                {(row) => (
                  <li>
                    {rowName(row, w, content())} <b>{rowState(row, w)}</b>
                  </li>
                )}
              </For>
            </ul>
            <Choice
              label={w('closing.count-image')}
              options={imageFindings.map((value) => ({ value, label: w(`closing.image.${value}`) }))}
              value={image()}
              onChoose={setImage}
            />
            <Show when={unspoken().length > 0}>
              <Touch onAct={() => void allOut()}>
                {w('closing.parts-all-out', {
                  parts: unspoken()
                    .map((part) => partName(part, w))
                    .join(', '),
                })}
              </Touch>
            </Show>
            <Touch onAct={() => setStep('words')} closed={lacksImage()}>
              {w('closing.go-on')}
            </Touch>
          </Match>
          <Match when={missing() && step() === 'words'}>
            <TextEntry
              label={w('closing.discrepancy')}
              value={words()}
              rows={1}
              offers={content().holds.find(({ id }) => id === 'count')?.reasons ?? []}
              onInput={setWords}
            />
            <div class="choice-row" role="group" aria-label={w('leave.decides')}>
              <Deciders chosen={decides()} onChoose={setDecides} />
            </div>
            <Touch onAct={() => setStep('who')} closed={lacksWords()}>
              {w('closing.go-on')}
            </Touch>
          </Match>
          <Match when={true}>
            <Show when={!missing()}>
              <p>{w('closing.all-accounted')}</p>
            </Show>
            <Show when={unmeasured().length > 0}>
              <p>
                <b>{w('closing.unmeasured', { pieces: unmeasured().join(', ') })}</b>
              </p>
            </Show>
            <Group label={w('closing.count-by')}>
              <For each={roles}>
                {(role) => (
                  <Touch onAct={() => toggle(role)} pressed={by().includes(role)}>
                    <span>{roleWord()[role]}</span>
                    <Show when={listed(role)}>{(who) => <small>{who()}</small>}</Show>
                  </Touch>
                )}
              </For>
            </Group>
            <Twice
              label={w('closing.count-answer')}
              question={w(missing() ? 'closing.count-question-open' : 'closing.count-question', {
                by: by()
                  .map((role) => roleWord()[role])
                  .join(' + '),
                words: words().trim(),
              })}
              yes={w('closing.count-yes')}
              closed={lacks()}
              onYes={() => void record()}
            />
          </Match>
        </Switch>
      </div>
    </Sheet>
  );
}
