/** What templates need of their engine while they run, without its compiler. */
declare module 'nunjucks/src/runtime.js' {
  export class Frame {
    topLevel: boolean;
    push(isolateWrites?: boolean): Frame;
  }
}

/** Templates as the bundler compiles them: functions by name, nothing to compile in the reader's browser. */
declare module 'kettleside:templates' {
  const templates: Readonly<Record<string, import('./recipe/templates.ts').CompiledTemplate>>;
  export default templates;
}

/** The weights of the network that reads digits, in base64. */
declare module 'kettleside:weights' {
  const weights: string;
  export default weights;
}
