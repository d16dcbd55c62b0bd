import { allowTap } from '../../parts/tap-guard.ts';
import { deferKey, leaveKey } from '../numbers.ts';
import { answersFor } from './Outcomes.tsx';
import type { Table } from './state.ts';

/**
 * Number keys, a foot-switch or a wand that types: they choose the numbered cards.
 *
 * @returns what ends the listening
 */
export function listenToNumbers(table: Table): () => void {
  const press = (event: KeyboardEvent) => {
    const typing = event.target instanceof HTMLElement && event.target.closest('textarea, input, .pad');
    if (typing || event.repeat || event.ctrlKey || event.metaKey || event.altKey || !/^[0-9]$/.test(event.key)) return;
    if (!allowTap(performance.now())) return;
    const number = Number(event.key);
    const panel = table.panel();
    if (table.running() && (panel.kind === 'moves' || panel.kind === 'outcomes')) {
      const all = panel.kind === 'outcomes' && panel.all;
      if (number === (all ? 0 : 4)) return void table.setPanel({ kind: 'outcomes', all: !all });
      const answers = answersFor(table);
      const chosen = all || number <= 3 ? answers[number - 1] : undefined;
      if (chosen) void table.end(chosen.end);
    } else if (panel.kind === 'moves' && !table.isLate() && !table.reassess() && table.pending() === null) {
      if (number === deferKey && table.isSecond()) return void table.defer();
      if (number === leaveKey && table.leaveNumber() === leaveKey)
        return void table.setPanel({ kind: 'sheet', sheet: 'leave' });
      const chosen = table.moves().find((move) => move.number === number);
      if (chosen) void table.start(chosen.offered.move);
    }
  };
  window.addEventListener('keydown', press);
  return () => window.removeEventListener('keydown', press);
}
