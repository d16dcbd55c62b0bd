/** The few members of selenium-webdriver that the WebKit checks use; the package carries no types. */
declare module 'selenium-webdriver' {
  export interface WebDriver {
    get(url: string): Promise<void>;
    executeScript(script: string, ...args: unknown[]): Promise<unknown>;
    executeAsyncScript(script: string, ...args: unknown[]): Promise<unknown>;
    takeScreenshot(): Promise<string>;
    manage(): {
      setTimeouts(timeouts: { script?: number; pageLoad?: number }): Promise<void>;
      window(): { setRect(rect: { x?: number; y?: number; width?: number; height?: number }): Promise<unknown> };
    };
    quit(): Promise<void>;
  }
  export class Capabilities {
    constructor(capabilities: Record<string, unknown>);
  }
  export class Builder {
    usingServer(url: string): this;
    withCapabilities(capabilities: Capabilities): this;
    build(): Promise<WebDriver>;
  }
}
