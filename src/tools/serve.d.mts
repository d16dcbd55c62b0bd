/** The Content-Security-Policy every answer carries. */
export const policy: string;
/** Serves one folder, read only; port 0 takes any free one; rejects when the port is taken. */
export function serve(
  dir: string,
  port: number,
  host?: string,
): Promise<{ url: string; port: number; close: () => Promise<void> }>;
