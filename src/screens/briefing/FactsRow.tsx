import { For } from 'solid-js';
import type { Stage } from '../../../content/ids.ts';
import { millimetres } from '../../format/figures.ts';
import { Touch } from '../../parts/Touch.tsx';
import { useApp } from '../app.ts';
import { questions, type Facts, type Question } from './plan.ts';
import { createScrewWords } from './screw-words.ts';

/** What is being asked: a fact, whether it is broken already, how many are alike; null for nothing. */
export type Asked = Question | 'form' | 'stage' | 'alike' | null;

export interface FactsRowProps {
  /** Null for a screw that is not listed yet. */
  screw: string | null;
  alike: number;
  facts: Facts;
  stage: Stage;
  asked: Asked;
  onAsk: (asked: Asked) => void;
}

/** What is known of a screw in one row; a touch on a fact asks it again. */
export function FactsRow(props: FactsRowProps) {
  const app = useApp();
  const { w } = app;
  const words = createScrewWords(app);
  const said = (question: Question): string => {
    const facts = props.facts;
    switch (question) {
      case 'size':
        return facts.diameter === undefined ? w('briefing.ask.size') : words.size(facts);
      case 'drive':
        return facts.drive === undefined ? w('briefing.ask.drive') : words.drive(facts.drive, facts.driveSize);
      case 'material':
        return facts.material === undefined ? w('briefing.ask.material') : words.material(facts.material);
      case 'cortices':
        return facts.cortices === undefined ? w('briefing.ask.cortices') : words.cortices(facts.cortices);
      case 'length':
        return facts.length === undefined
          ? w('briefing.ask.length')
          : facts.length === null
            ? w('briefing.length-unknown')
            : w('briefing.long', { length: millimetres(facts.length) });
    }
  };
  const title = () =>
    props.screw !== null
      ? w('briefing.screw', { screw: props.screw })
      : props.alike > 1
        ? w('briefing.new-screws', { count: props.alike })
        : w('briefing.new-screw');
  return (
    <div class="facts" role="group" aria-label={title()}>
      <b>{title()}</b>
      <div class="facts-row">
        <For each={questions}>
          {(question) => (
            <Touch size="small" current={props.asked === question} onAct={() => props.onAsk(question)}>
              {said(question)}
            </Touch>
          )}
        </For>
        <Touch size="small" current={props.asked === 'form'} onAct={() => props.onAsk('form')}>
          {words.form(props.facts) || w('briefing.ask.form')}
        </Touch>
        <Touch size="small" current={props.asked === 'stage'} onAct={() => props.onAsk('stage')}>
          {props.stage === 'seated' ? w('briefing.not-broken') : app.content().phrases.stages[props.stage].glance}
        </Touch>
      </div>
    </div>
  );
}
