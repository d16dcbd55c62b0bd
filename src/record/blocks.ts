/** Blocks of a section, from plain words. */
import { recorded, type Block } from './model.ts';

export const text = (line: string): Block => ({ kind: 'text', text: line });
export const over = (line: string): Block => ({ kind: 'heading', text: line });
export const items = (...lines: string[]): Block => ({ kind: 'list', items: lines });
export const item = (id: string, label: string, lines: readonly string[]): Block => ({
  kind: 'item',
  id,
  label,
  value: recorded(...lines),
});
