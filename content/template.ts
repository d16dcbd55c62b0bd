/**
 * A phrase with its places filled.
 *
 * @param template text with places in braces, such as `{n} of {of}`
 * @param valueOf what stands in a place, by its name
 * @example fillTemplate('{n} of {of}', (place) => ({ n: '2', of: '8' })[place] ?? '') // '2 of 8'
 */
export const fillTemplate = (template: string, valueOf: (place: string) => string): string =>
  template.replace(/\{(\w+)\}/g, (_, place: string) => valueOf(place));
