/** The part of Eleventy that the site uses; the package brings no types of its own. */
declare module '@11ty/eleventy' {
  import type { Server } from 'node:http';

  export interface EleventyOptions {
    readonly configPath?: string;
    readonly quietMode?: boolean;
    readonly runMode?: 'build' | 'serve' | 'watch';
    /** True where nothing is to be written. */
    readonly dryRun?: boolean;
    readonly source?: 'cli' | 'script';
    readonly config?: (config: never) => void | Promise<void>;
  }
  export default class Eleventy {
    constructor(input?: string, output?: string, options?: EleventyOptions);
    init(): Promise<void>;
    write(): Promise<unknown>;
    /** Gives what is called for each file that changes. */
    watch(): Promise<(path: string) => Promise<void>>;
    readonly watcher: {
      add(path: string): void;
      on(event: 'unlink' | 'unlinkDir', listener: (path: string) => void): void;
    };
    serve(port: number): Promise<void>;
    readonly eleventyServe: {
      initServerInstance: () => Promise<void>;
      readonly server: { _serverListen?: (port: number) => void; readonly server: Server };
    };
    disableLogger(): void;
    readonly logger: { overrideLogger(logger: object): void };
  }
}
