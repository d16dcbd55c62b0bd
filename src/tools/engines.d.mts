/** First of the named programs on the PATH, or null. */
export function which(...names: string[]): string | null;
/** A Chromium that answers, or null. */
export function findChromium(): string | null;
/** A stock Firefox, or null. */
export function findFirefox(): string | null;
/** WebKitGTK's driver, small browser and a virtual screen, or null. */
export function findWebKit(): { driver: string; browser: string; screen: string } | null;
