/**
 * Takes in a style sheet that comes with a script, so that no start carries it; after those of the page, as if it were
 * the last of them.
 *
 * @param rules the text of the sheet
 * @example adoptStyle('.beyond { line-height: 1.1; }')
 */
export function adoptStyle(rules: string): void {
  // Where there is no page, or one that has no style, there is nothing to look at.
  if (typeof document === 'undefined' || !('adoptedStyleSheets' in document)) return;
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(rules);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}
