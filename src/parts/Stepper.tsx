import { Touch } from './Touch.tsx';
import { figure } from '../format/figures.ts';

export interface StepperProps {
  label: string;
  unit: string;
  value: number;
  step: number;
  min: number;
  max: number;
  /** Spoken names of the two touches, such as "less" and "more". */
  words: { less: string; more: string };
  onChange: (value: number) => void;
}

/** A number between two touches, for values that are nearly right already. */
export function Stepper(props: StepperProps) {
  const to = (value: number) => {
    const stepped = Math.round(value / props.step) * props.step;
    props.onChange(Math.min(props.max, Math.max(props.min, Number(stepped.toFixed(6)))));
  };
  return (
    <div class="stepper" role="group" aria-label={props.label}>
      <span class="choice-label" aria-hidden="true">
        {props.label}
      </span>
      <Touch size="small" quick label={props.words.less} onAct={() => to(props.value - props.step)}>
        −
      </Touch>
      <output class="stepper-value">
        <b class="figure">{figure(props.value)}</b> {props.unit}
      </output>
      <Touch size="small" quick label={props.words.more} onAct={() => to(props.value + props.step)}>
        +
      </Touch>
    </div>
  );
}
