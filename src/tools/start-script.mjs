/** A plugin of the build: whatever the page's own script brings with it at once comes in one script, not in a dozen. */

/**
 * @returns {{ plugin: import('vite').Plugin, isOfStart: (id: string) => boolean }} the plugin, and whether a module
 *   belongs to the start: the entry, and what it imports by statements, however deep, but nothing behind `import()`
 */
export function startScript() {
  /** @type {Set<string>} */
  const found = new Set();
  return {
    isOfStart: (id) => found.has(id),
    plugin: {
      name: 'start-script',
      apply: 'build',
      buildEnd() {
        const open = [...this.getModuleIds()].filter((id) => this.getModuleInfo(id)?.isEntry);
        for (let id = open.pop(); id !== undefined; id = open.pop()) {
          if (found.has(id)) continue;
          found.add(id);
          open.push(...(this.getModuleInfo(id)?.importedIds ?? []));
        }
      },
    },
  };
}
