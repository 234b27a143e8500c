// What the build (pwa/build) puts in. See bundle there.

/** Names the version that page, worker and service worker belong to. */
declare const BUILD: string;
/** Where the worker is. Given to the page only. */
declare const WORKER_URL: string;
/** The id that the core must have. Given to the worker only, as are the two below. */
declare const CORE_ID: string;
declare const CORE_URL: string;
declare const CATALOGUE_URL: string;
/** Every hash-named file of this version. Given to the service worker only. */
declare const FILES: string[];

declare module 'wasm_exec' {}

/** Go's JavaScript half, which wasm_exec sets on the worker's global object. */
declare class Go {
  importObject: WebAssembly.Imports;
  run(instance: WebAssembly.Instance): Promise<void>;
}
