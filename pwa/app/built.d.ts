// What the build (pwa/build) puts in. See bundle there.

/** Names the version that page, worker and service worker belong to. */
declare const BUILD: string;
/** Where the worker is. Given to the page only. */
declare const WORKER_URL: string;
/** Where the styles of the places that come later are. Given to the page only. */
declare const LATER_STYLE_URL: string;
/** The release of the list of stations that this version brings. Given to the page only. */
declare const CATALOGUE_RELEASE: string;
/** The id that the core must have, and where it is. Given to the worker only. */
declare const CORE_ID: string;
declare const CORE_URL: string;
/** Where the list of stations is. Given to the worker and the service worker. */
declare const CATALOGUE_URL: string;
/** Every other hash-named file of this version. Given to the service worker only. */
declare const FILES: string[];

declare module 'wasm_exec' {}

/** Go's JavaScript half, which wasm_exec sets on the worker's global object. */
declare class Go {
  importObject: WebAssembly.Imports;
  run(instance: WebAssembly.Instance): Promise<void>;
}
