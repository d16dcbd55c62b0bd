/** A side as the word that stands on every screen. */
export function sideWord(w: (key: string) => string, side: string): string {
  if (side === 'left') return w('cases.left');
  if (side === 'right') return w('cases.right');
  return side === 'midline' ? w('cases.midline') : w('cases.side-not-recorded');
}
