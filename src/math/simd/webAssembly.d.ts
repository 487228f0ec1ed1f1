/** What is used of WebAssembly here: the types of Node leave that to those of browsers. */
declare namespace WebAssembly {
  class Module {
    constructor(bytes: Uint8Array);
  }
  class Instance {
    constructor(module: Module);
    readonly exports: unknown;
  }
}
