import { For, createSignal, type JSX } from 'solid-js';
import { render } from 'solid-js/web';
import { stages, type Stage } from '../../../content/ids.ts';
import { Band } from '../../../src/parts/Band.tsx';
import { Choice } from '../../../src/parts/Choice.tsx';
import { Clock } from '../../../src/parts/Clock.tsx';
import { MoveCard } from '../../../src/parts/MoveCard.tsx';
import { NumberPad } from '../../../src/parts/NumberPad.tsx';
import { Said } from '../../../src/parts/Said.tsx';
import { Sheet } from '../../../src/parts/Sheet.tsx';
import { Stepper } from '../../../src/parts/Stepper.tsx';
import { TextEntry } from '../../../src/parts/TextEntry.tsx';
import { Touch } from '../../../src/parts/Touch.tsx';
import { span } from '../../../src/format/figures.ts';
import { BoneSection } from '../../../src/pictures/BoneSection.tsx';
import { BoneStrip } from '../../../src/pictures/BoneStrip.tsx';
import { ConstructMap } from '../../../src/pictures/ConstructMap.tsx';
import { ScrewGlyph } from '../../../src/pictures/ScrewGlyph.tsx';
import { ScrewSide } from '../../../src/pictures/ScrewSide.tsx';

// Invented data. The page shows every part and drawing once; `?page=` picks, `&theme=` sets the scheme.
const query = new URLSearchParams(location.search);
document.documentElement.dataset['theme'] = query.get('theme') ?? 'dark';

const words: Record<Stage, string> = {
  seated: 'seated',
  'recess-stripped': 'stripped',
  'head-sheared': 'head gone',
  'fragment-retained': 'deep piece',
  out: 'out',
  'left-in': 'left in',
};
const screws = (count: number) =>
  Array.from({ length: count }, (_, i) => {
    const stage = stages[[0, 4, 2, 1, 0, 0, 3, 5, 0, 4, 0, 1, 0, 0][i] ?? 0] ?? 'seated';
    return { id: String(i + 1), stage, word: words[stage], label: `screw ${i + 1}, ${words[stage]}` };
  });
const sign = { becomes: 'to', have: 'here', lacks: 'not here' };
const step = { previous: 'previous', next: 'next' };
const nothing = () => undefined;
const own = [{ wall: 'both' as const, diameter: 4.5 }];
const reamed = [...own, { wall: 'near' as const, diameter: 7 }];

const section = (plain = false) => (
  <BoneSection
    outer={27}
    cortex={5}
    before={own}
    after={reamed}
    cortexLostBefore={0.131}
    cortexLost={0.172}
    bendingKept={0.67}
    torsionKept={0.565}
    torsionBand={[0.495, 0.635]}
    beyondTested="beyond tested range"
    limits={{ consider: 0.2, stop: 0.3 }}
    words={{ lost: 'ring lost', limit: 'limits', bends: 'bends at', twists: 'twists at', becomes: 'to' }}
    label="bone across, ring lost 13 to 17 per cent"
    plain={plain}
  />
);
const side = (stage: Stage, plate?: number) => (
  <ScrewSide
    stage={stage}
    diameter={4.5}
    length={36}
    cortices={2}
    bone={{ outer: 27, cortex: 5 }}
    plate={plate}
    out={stage === 'head-sheared' ? 6 : stage === 'fragment-retained' ? 24 : 0}
    would={
      stage === 'head-sheared'
        ? [{ wall: 'near', diameter: 7 }]
        : stage === 'fragment-retained'
          ? [{ wall: 'both', diameter: 7 }]
          : undefined
    }
    turn="anticlockwise"
    notes={{ out: '6 mm out', in: '30 mm in', would: stage === 'seated' ? undefined : 'ream 7 mm' }}
    label="screw from the side"
  />
);

function Table(props: { count: number }) {
  const [called, setCalled] = createSignal('3');
  const [shown, setShown] = createSignal<string | null>(null);
  return (
    <div class="page table">
      <div class="top">
        <b>RIGHT · tibia</b>
        <Clock label="case" reading={span(48)} />
        <Clock label="tourniquet" reading={span(41)} of="of 120 min" />
        <Clock label="move" reading={span(2.17, true)} />
        <b class="figure">14:32:07</b>
      </div>
      <ConstructMap
        construct="plate"
        screws={screws(props.count)}
        called={called()}
        box={{ width: 54, height: 120 }}
        flow="column"
        label="plate"
        onCall={(id) => {
          setCalled(id);
          setShown(null);
        }}
        shown={shown()}
        onShow={setShown}
        words={step}
      />
      <div class="main">
        <div class="stage">3 · head gone</div>
        <div class="say">“Head is gone on three. Shank flush.”</div>
        <div class="pictures">
          {side('head-sheared')}
          {section(true)}
        </div>
        <div class="cards">
          <MoveCard
            number={1}
            title="Gouge + grip"
            figures={[
              { label: 'ring lost', before: '13', after: '19 %' },
              { label: 'bends at', after: '62 %' },
            ]}
            needs={[
              { label: 'gouge', have: true },
              { label: 'gripper', have: true },
            ]}
            words={sign}
            onAct={nothing}
          />
          <MoveCard
            number={2}
            title="Hollow ream"
            turn="anticlockwise"
            figures={[
              { label: 'ring lost', before: '13', after: '17 %' },
              { label: 'bends at', after: '67 %' },
            ]}
            needs={[
              { label: '7 mm reamer', have: true },
              { label: 'reverse', have: true },
            ]}
            before="confirm reverse first"
            words={sign}
            onAct={nothing}
          />
          <MoveCard
            number={3}
            title="Burr out"
            figures={[{ label: 'ring lost', before: '13', after: '16 %' }]}
            needs={[
              { label: 'burr', have: true },
              { label: 'irrigation', have: true },
            ]}
            words={sign}
            onAct={nothing}
          />
          <MoveCard number={4} title="Grip shank" closed="closed: shank not proud" words={sign} onAct={nothing} />
        </div>
      </div>
      <div class="foot">
        <Said time="14:29:57" text="screw 3: head gone, 6 mm out" takeBack="Take back" onTakeBack={nothing} />
        <Touch onAct={nothing}>Call someone</Touch>
        <Touch onAct={nothing}>Show surgeon</Touch>
        <Touch consequential onAct={nothing}>
          Leave it in
        </Touch>
      </div>
    </div>
  );
}

function Pictures() {
  return (
    <div class="page">
      <div class="row">
        <For each={stages}>{(stage) => <ScrewGlyph stage={stage} label={stage} />}</For>
      </div>
      <ConstructMap
        construct="plate"
        screws={screws(14)}
        called="3"
        box={{ width: 227, height: 60 }}
        flow="row"
        label="plate"
        onCall={nothing}
        words={step}
      />
      <div class="row">
        <ConstructMap
          construct="nail"
          screws={screws(4)}
          called="2"
          box={{ width: 100, height: 30 }}
          flow="row"
          label="nail"
          onCall={nothing}
          words={step}
        />
        <ConstructMap
          construct="screws"
          screws={screws(3)}
          called={null}
          box={{ width: 100, height: 30 }}
          flow="row"
          label="screws"
          onCall={nothing}
          words={step}
        />
      </div>
      <div class="frame">
        <BoneStrip
          levels={screws(14).map((s, i) => ({
            screw: s.id,
            lost: [0.131, 0.131, 0.131, 0.2, 0.131, 0.24][i] ?? 0.131,
            ...(i === 2 ? { after: 0.19 } : {}),
          }))}
          called="3"
          limits={{ consider: 0.2, stop: 0.3 }}
          limit="limit"
          label="bone along its length"
        />
      </div>
    </div>
  );
}

function Sides() {
  return (
    <div class="page">
      <div class="row">
        <div class="frame">{side('seated', 4)}</div>
        <div class="frame">{side('recess-stripped', 4)}</div>
        <div class="frame">{side('head-sheared')}</div>
      </div>
      <div class="row">
        <div class="frame">{side('fragment-retained')}</div>
        <div class="frame">{side('out')}</div>
        <div class="frame">{side('left-in')}</div>
      </div>
      <div class="frame">{section()}</div>
    </div>
  );
}

function Parts() {
  const [value, setValue] = createSignal<string | null>(null);
  const [mm, setMm] = createSignal(27);
  const [text, setText] = createSignal('');
  return (
    <div class="page">
      <Band
        kind="hold"
        title="Stop turning. One slip: 50 % left"
        text="Recess clean? Driver fully seated? In line? Fresh driver?"
      >
        <Touch onAct={nothing}>Reassessed</Touch>
      </Band>
      <Band kind="notice" title="Consider the hollow reamer" text="7 mm reamer is in the room." />
      <Choice
        label="drive form"
        options={[
          { value: 'a', label: 'hexagonal' },
          { value: 'b', label: 'hexalobular' },
          { value: 'c', label: 'slotted', closed: 'no driver in the room' },
        ]}
        value={value()}
        onChoose={setValue}
      />
      <Stepper
        label="outer diameter"
        unit="mm"
        value={mm()}
        step={0.5}
        min={5}
        max={60}
        words={{ less: 'less', more: 'more' }}
        onChange={setMm}
      />
      <TextEntry label="reason" value={text()} offers={['surgeon decided', 'no tool']} onInput={setText} />
    </div>
  );
}

function Pad() {
  return (
    <div class="page">
      <Sheet title="Length out" close="Back" onClose={nothing}>
        <NumberPad
          label="length out, screw 3"
          unit="mm"
          value={null}
          min={0}
          max={120}
          offers={[6, 12, 30, 36]}
          words={{ done: 'Done', back: 'take the last digit away', unknown: 'Not measured', range: '0–120 mm' }}
          onDone={nothing}
        />
      </Sheet>
    </div>
  );
}

const pages: Record<string, () => JSX.Element> = {
  table: () => <Table count={8} />,
  folded: () => <Table count={14} />,
  pictures: () => <Pictures />,
  sides: () => <Sides />,
  parts: () => <Parts />,
  pad: () => <Pad />,
};
const root = document.getElementById('root');
if (root) render(() => pages[query.get('page') ?? 'table']?.(), root);
