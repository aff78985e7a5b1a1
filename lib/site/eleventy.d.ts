/** The part of Eleventy that the site uses; the package brings no types of its own. */
declare module '@11ty/eleventy' {
  export interface EleventyOptions {
    readonly configPath?: string;
    readonly quietMode?: boolean;
    readonly runMode?: 'build' | 'serve' | 'watch';
    readonly source?: 'cli' | 'script';
    readonly config?: (config: never) => void | Promise<void>;
  }
  export default class Eleventy {
    constructor(input?: string, output?: string, options?: EleventyOptions);
    init(): Promise<void>;
    write(): Promise<unknown>;
    watch(): Promise<void>;
    serve(port: number): Promise<void>;
    readonly eleventyServe: {
      readonly init: () => Promise<void>;
      readonly initServerInstance: () => Promise<void>;
      readonly server: {
        _serverListen?: (port: number) => void;
        readonly server: { listen(at: object): void };
      };
    };
    disableLogger(): void;
  }
}
