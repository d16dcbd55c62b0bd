import { cleanup, fireEvent, render } from '@solidjs/testing-library';
import { createSignal } from 'solid-js';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { stages } from '../../content/ids.ts';
import { Band } from '../../src/parts/Band.tsx';
import { Choice } from '../../src/parts/Choice.tsx';
import { MoveCard } from '../../src/parts/MoveCard.tsx';
import { NumberPad } from '../../src/parts/NumberPad.tsx';
import { Said } from '../../src/parts/Said.tsx';
import { Sheet } from '../../src/parts/Sheet.tsx';
import { TextEntry } from '../../src/parts/TextEntry.tsx';
import { Touch } from '../../src/parts/Touch.tsx';
import { createLayoutGuard } from '../../src/parts/layout-guard.ts';
import { BoneSection } from '../../src/pictures/BoneSection.tsx';
import { BoneStrip } from '../../src/pictures/BoneStrip.tsx';
import { ConstructMap } from '../../src/pictures/ConstructMap.tsx';
import { ScrewGlyph } from '../../src/pictures/ScrewGlyph.tsx';
import { ScrewSide } from '../../src/pictures/ScrewSide.tsx';

// The guard of the app outlives a test, so the clock of the tests only goes forward.
let now = 0;
beforeEach(() => {
  now += 10_000;
  vi.spyOn(performance, 'now').mockImplementation(() => now);
});
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

const stamped = <E extends Event>(event: E): E => Object.defineProperty(event, 'timeStamp', { value: now });
const box = {
  left: 100,
  top: 100,
  right: 204,
  bottom: 204,
  width: 104,
  height: 104,
  x: 100,
  y: 100,
  toJSON: () => ({}),
};
/** A finger on an element: down inside it, up at `x`, `y` after `held` ms, and the click a browser adds where it does. */
function finger(on: Element, { x = 150, y = 150, held = 60, click = true } = {}) {
  on.getBoundingClientRect = () => box;
  const at = (type: string, clientX: number, clientY: number) =>
    fireEvent(on, stamped(new PointerEvent(type, { bubbles: true, pointerId: 1, isPrimary: true, clientX, clientY })));
  at('pointerdown', 150, 150);
  now += held;
  at('pointermove', x, y);
  at('pointerup', x, y);
  if (click) fireEvent(on, stamped(new MouseEvent('click', { bubbles: true, detail: 1 })));
}
const key = (on: Element) => fireEvent(on, stamped(new MouseEvent('click', { bubbles: true, detail: 0 })));

describe('a touch', () => {
  const one = (more: Partial<Parameters<typeof Touch>[0]> = {}) => {
    const act = vi.fn();
    const view = render(() => (
      <Touch onAct={act} {...more}>
        Go on
      </Touch>
    ));
    return { act, button: view.getByRole('button') };
  };

  it('acts once when it is lifted inside, whether or not a click follows [Z5]', () => {
    const { act, button } = one();
    finger(button);
    expect(act).toHaveBeenCalledTimes(1);
    now += 500;
    finger(button, { click: false });
    expect(act).toHaveBeenCalledTimes(2);
  });

  it('does not act before it is lifted [Z5]', () => {
    const { act, button } = one();
    fireEvent(button, stamped(new PointerEvent('pointerdown', { bubbles: true, pointerId: 1, isPrimary: true })));
    expect(act).not.toHaveBeenCalled();
    expect(button.classList.contains('held')).toBe(true);
  });

  it('takes the tap back when the finger slides off, also where the browser still sends a click [Z5]', () => {
    const { act, button } = one();
    finger(button, { x: 205 });
    finger(button, { y: 99, click: false });
    expect(act).not.toHaveBeenCalled();
    expect(button.classList.contains('held')).toBe(false);
  });

  it('still acts when a glove slides inside it [Z5]', () => {
    const { act, button } = one();
    finger(button, { x: 200, y: 102 });
    expect(act).toHaveBeenCalledTimes(1);
  });

  it('does nothing when the browser takes the finger away', () => {
    const { act, button } = one();
    button.getBoundingClientRect = () => box;
    for (const type of ['pointerdown', 'pointercancel', 'pointerup'])
      fireEvent(
        button,
        stamped(new PointerEvent(type, { bubbles: true, pointerId: 1, isPrimary: true, clientX: 150, clientY: 150 })),
      );
    expect(act).not.toHaveBeenCalled();
  });

  it('counts a bounce once, on this touch and on its neighbour [Z6]', () => {
    const first = one();
    const second = one();
    expect(second.button).not.toBe(first.button);
    finger(first.button);
    now += 100;
    finger(first.button);
    now += 100;
    finger(second.button);
    expect(first.act).toHaveBeenCalledTimes(1);
    expect(second.act).not.toHaveBeenCalled();
    now += 400;
    finger(second.button);
    expect(second.act).toHaveBeenCalledTimes(1);
  });

  it('ignores a tap within 400 ms of a change of layout, and one that began before it [Z7]', () => {
    const [cards, setCards] = createSignal('a b');
    const act = vi.fn();
    const view = render(() => {
      createLayoutGuard(cards);
      return <Touch onAct={act}>Go on</Touch>;
    });
    const button = view.getByRole('button');
    setCards('b a');
    now += 300;
    finger(button, { held: 60 });
    expect(act).not.toHaveBeenCalled();
    now += 1000;
    button.getBoundingClientRect = () => box;
    const at = { bubbles: true, pointerId: 1, isPrimary: true, clientX: 150, clientY: 150 };
    fireEvent(button, stamped(new PointerEvent('pointerdown', at)));
    now += 10;
    setCards('c');
    now += 2000;
    fireEvent(button, stamped(new PointerEvent('pointerup', at)));
    expect(act).not.toHaveBeenCalled();
    finger(button);
    expect(act).toHaveBeenCalledTimes(1);
  });

  it('works by key and by screen reader, and says whether it is pressed', () => {
    const { act, button } = one({ pressed: true, label: 'go on' });
    key(button);
    expect(act).toHaveBeenCalledTimes(1);
    now += 500;
    fireEvent(button, stamped(new MouseEvent('click', { bubbles: true, detail: 1 })));
    expect(act).toHaveBeenCalledTimes(2);
    expect(button.getAttribute('aria-pressed')).toBe('true');
    expect(button.getAttribute('aria-label')).toBe('go on');
  });

  it('lets a held key act once', () => {
    const { button } = one();
    const repeat = new KeyboardEvent('keydown', { key: 'Enter', repeat: true, bubbles: true, cancelable: true });
    fireEvent(button, repeat);
    expect(repeat.defaultPrevented).toBe(true);
  });

  it('stays in its place with the reason in words when it is closed', () => {
    const { act, button } = one({ closed: 'no gouge in the room' });
    finger(button);
    key(button);
    expect(act).not.toHaveBeenCalled();
    expect(button.getAttribute('aria-disabled')).toBe('true');
    expect(button.textContent).toContain('no gouge in the room');
  });

  it('marks a consequential one by its outline and keeps it apart [Z5]', () => {
    const { button } = one({ consequential: true });
    expect(button.classList.contains('touch-consequential')).toBe(true);
    expect(button.dataset['apart']).toBe('inline');
  });
});

describe('the other parts', () => {
  it('choose nothing beforehand, and one option with one touch [Z2]', () => {
    const [side, setSide] = createSignal<string | null>(null);
    const view = render(() => (
      <Choice
        label="side"
        options={[
          { value: 'left', label: 'LEFT' },
          { value: 'right', label: 'RIGHT' },
        ]}
        value={side()}
        onChoose={setSide}
      />
    ));
    const pressed = () => view.getAllByRole('button').map((b) => b.getAttribute('aria-pressed'));
    expect(pressed()).toEqual(['false', 'false']);
    finger(view.getByText('RIGHT').closest('button') as Element);
    expect(pressed()).toEqual(['false', 'true']);
  });

  /** A pad for 0 to 120 mm, opened with a value, and a finger that presses its keys. */
  const pad = (value: number | null) => {
    const done = vi.fn();
    const view = render(() => (
      <NumberPad
        label="length out"
        unit="mm"
        value={value}
        min={0}
        max={120}
        words={{ done: 'Done', back: 'rub out', unknown: 'Not measured', range: '0–120 mm' }}
        onDone={done}
      />
    ));
    const press = (name: string) => {
      now += 500;
      finger(view.getByRole('button', { name }));
    };
    return { view, done, press };
  };

  it('take a length from the pad, refuse one out of range in words, and tell unknown from zero [Z9]', () => {
    const { view, done, press } = pad(null);
    expect(view.getByText('Done').closest('button')?.getAttribute('aria-disabled')).toBe('true');
    press('3');
    press('6');
    press('6');
    expect(view.getByText('0–120 mm')).toBeTruthy();
    press('rub out');
    press('.');
    press('5');
    expect(view.getByText('36.5').parentElement?.textContent).toBe('36.5 mm');
    press('Done');
    press('Not measured');
    expect(done.mock.calls).toEqual([[36.5], [null]]);
  });

  it('puts the first digit in the place of a value that was not typed; rubbing out keeps the rest of it', () => {
    const { done, press } = pad(44);
    for (const key of ['2', '4', 'Done', 'rub out', '6', 'Done']) press(key);
    expect(done.mock.calls).toEqual([[24], [26]]);
  });

  it('move focus into a sheet and back, and close it by Escape', () => {
    const [open, setOpen] = createSignal(false);
    const view = render(() => (
      <>
        <Touch onAct={() => setOpen(true)}>open</Touch>
        {open() ? (
          <Sheet title="What was found" close="Back" onClose={() => setOpen(false)}>
            body
          </Sheet>
        ) : null}
      </>
    ));
    const opener = view.getByText('open');
    opener.focus();
    key(opener);
    const heading = view.getByRole('heading', { name: 'What was found' });
    expect(document.activeElement).toBe(heading);
    fireEvent.keyDown(heading, { key: 'Escape' });
    expect(view.queryByRole('heading')).toBeNull();
    expect(document.activeElement).toBe(opener);
  });

  it('show the last entry with its time, and take it back by name [Z5]', () => {
    const back = vi.fn();
    const view = render(() => (
      <Said time="14:29:57" text="screw 3: head gone" mark="late" takeBack="Take back" onTakeBack={back} />
    ));
    expect(view.container.textContent).toContain('14:29:57');
    expect(view.container.textContent).toContain('late');
    finger(view.getByRole('button', { name: 'Take back' }));
    expect(back).toHaveBeenCalledTimes(1);
  });

  it('put offered words into a text', () => {
    const [text, setText] = createSignal('');
    const view = render(() => (
      <TextEntry label="reason" value={text()} offers={['no tool', 'bone']} onInput={setText} />
    ));
    for (const offer of ['no tool', 'bone']) {
      now += 500;
      finger(view.getByRole('button', { name: offer }));
    }
    expect(view.getByLabelText<HTMLTextAreaElement>('reason').value).toBe('no tool; bone');
  });

  it('tell a hold from a notice by its look and read both out politely', () => {
    const view = render(() => (
      <>
        <Band kind="hold" title="Stop turning" text="One slip." />
        <Band kind="notice" title="Irrigate" />
      </>
    ));
    expect([...view.container.querySelectorAll('.band')].map((b) => b.className)).toEqual([
      'band band-hold',
      'band band-notice',
    ]);
    expect(view.getAllByRole('status').map((s) => s.textContent)).toEqual(['Stop turningOne slip.', 'Irrigate']);
  });

  it('name everything on a card: number, cost before and after, what is here and what is not [Z11]', () => {
    const view = render(() => (
      <MoveCard
        number={2}
        title="Hollow ream"
        turn="anticlockwise"
        figures={[{ label: 'ring lost', before: '13', after: '17 %' }]}
        needs={[{ label: '7 mm reamer', have: false }]}
        words={{ becomes: 'to', have: 'here', lacks: 'not here' }}
        onAct={() => undefined}
      />
    ));
    const signs = [...view.container.querySelectorAll('[role=img]')].map((s) => s.getAttribute('aria-label'));
    expect(signs).toEqual(['anticlockwise', 'to', 'not here']);
    expect(view.getByRole('button').textContent?.replace(/\s+/g, ' ')).toBe(
      '2Hollow reamring lost 13 17 %7 mm reamer ',
    );
  });
});

describe('the drawings', () => {
  const words = { previous: 'previous', next: 'next' };
  const screws = (count: number) =>
    Array.from({ length: count }, (_, i) => ({
      id: `${i + 1}`,
      stage: 'seated' as const,
      word: 'seated',
      label: `screw ${i + 1}, seated`,
    }));

  it('give each stage a shape of its own, in one ink [Z28]', () => {
    const shapes = stages.map((stage) =>
      render(() => <ScrewGlyph stage={stage} label={stage} />).container.querySelector('svg'),
    );
    expect(new Set(shapes.map((svg) => svg?.innerHTML)).size).toBe(6);
    for (const svg of shapes) {
      expect(svg?.getAttribute('fill')).toBe('currentColor');
      expect(svg?.innerHTML).not.toMatch(/(fill|stroke)=|<text|<circle/);
    }
  });

  it('call a screw by one touch, in their true order, the called one marked [Z3]', () => {
    const call = vi.fn();
    const view = render(() => (
      <ConstructMap
        construct="plate"
        screws={screws(14)}
        called="3"
        box={{ width: 227, height: 60 }}
        flow="row"
        label="plate"
        onCall={call}
        words={words}
      />
    ));
    const touches = view.getAllByRole('button');
    expect(touches.map((t) => t.getAttribute('aria-label'))).toEqual(screws(14).map((s) => s.label));
    expect(
      touches.filter((t) => t.getAttribute('aria-current') === 'true').map((t) => t.textContent?.replace(/\s+/g, ' ')),
    ).toEqual(['3 seated']);
    finger(touches[12] as Element);
    expect(call).toHaveBeenCalledWith('13');
  });

  it('fold fourteen screws in a narrow place: all drawn, one touch, two that step [Z3] [Z5]', () => {
    const call = vi.fn();
    const [shown, setShown] = createSignal<string | null>(null);
    const view = render(() => (
      <ConstructMap
        construct="nail"
        screws={screws(14)}
        called="13"
        box={{ width: 53, height: 120 }}
        flow="column"
        label="nail"
        onCall={call}
        shown={shown()}
        onShow={setShown}
        words={words}
      />
    ));
    expect(view.container.querySelectorAll('.map-drawing')).toHaveLength(14);
    const names = () => view.getAllByRole('button').map((t) => t.getAttribute('aria-label'));
    expect(names()).toEqual(['previous', 'screw 13, seated', 'next']);
    const press = (name: string) => {
      now += 500;
      finger(view.getByRole('button', { name }));
    };
    press('next');
    press('next');
    expect(names()[1]).toBe('screw 14, seated');
    press('screw 14, seated');
    expect(call).toHaveBeenCalledWith('14');
  });

  it('say the section in words and show loss before and after with the limits [Z9]', () => {
    const view = render(() => (
      <BoneSection
        outer={27}
        cortex={5}
        before={[{ wall: 'both', diameter: 4.5 }]}
        after={[
          { wall: 'both', diameter: 4.5 },
          { wall: 'near', diameter: 7 },
        ]}
        cortexLostBefore={0.131}
        cortexLost={0.172}
        bendingKept={0.67}
        torsionKept={0.565}
        torsionBand={[0.495, 0.635]}
        limits={{ consider: 0.2, stop: 0.3 }}
        words={{ lost: 'ring lost', limit: 'limit', bends: 'bends at', twists: 'twists at', becomes: 'to' }}
        label="bone across"
      />
    ));
    expect(view.getByRole('img', { name: 'bone across' })).toBeTruthy();
    const text = view.container.textContent?.replaceAll('\u00a0', ' ');
    for (const part of ['13 ', '17 %', 'limit 20 · 30 %', 'bends at 67 %', 'twists at 50–64 %'])
      expect(text).toContain(part);
    const widths = [...view.container.querySelectorAll('rect.would')].map((r) => Number(r.getAttribute('width')));
    expect(widths).toEqual([4.5, 7]);
  });

  it('draw no further hole where a move takes no more bone', () => {
    const own = [{ wall: 'near' as const, diameter: 3.5 }];
    const view = render(() => (
      <BoneSection
        outer={24}
        cortex={5}
        before={own}
        after={own}
        cortexLostBefore={0.06}
        cortexLost={0.06}
        bendingKept={null}
        torsionKept={null}
        limits={{ consider: 0.2, stop: 0.3 }}
        words={{ lost: '', limit: '', bends: '', twists: '', becomes: '' }}
        label="bone"
        plain
      />
    ));
    expect(view.container.querySelectorAll('.would, .section-before')).toHaveLength(0);
  });

  it('show the screw from the side with its lengths, and an arrow only where the turn matters', () => {
    const view = render(() => (
      <ScrewSide
        stage="head-sheared"
        diameter={4.5}
        length={36}
        cortices={2}
        bone={{ outer: 27, cortex: 5 }}
        out={6}
        would={[{ wall: 'near', diameter: 7 }]}
        notes={{ out: '6 mm out', in: '30 mm in', would: 'ream 7 mm' }}
        label="screw 3 from the side"
      />
    ));
    expect(view.getByRole('img', { name: 'screw 3 from the side' }).textContent).toContain('30 mm in');
    expect(view.container.querySelectorAll('.ghost').length).toBeGreaterThan(0);
    expect(view.container.querySelectorAll('.would')).toHaveLength(1);
    expect(view.container.querySelector('.turn-arrow')).toBeNull();
  });

  it('cut a notch as deep as the loss at every screw', () => {
    const view = render(() => (
      <BoneStrip
        levels={[
          { screw: '1', lost: 0.1 },
          { screw: '2', lost: 0.2, after: 0.3 },
          { screw: '3', lost: null },
        ]}
        called="2"
        limits={{ consider: 0.2, stop: 0.3 }}
        limit="limit"
        label="bone along"
      />
    ));
    const depths = [...view.container.querySelectorAll('rect.notch')].map((r) => Number(r.getAttribute('height')));
    expect(depths[1] as number).toBeCloseTo((depths[0] as number) * 3, 6);
    expect(depths[2]).toBe(0);
    const read = view.container.querySelector('.strip-screws')?.textContent?.replaceAll('\u00a0', ' ');
    expect(read).toBe('110 %230 %3–');
  });
});
