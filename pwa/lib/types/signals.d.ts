// What the app uses of @preact/signals 2.

declare module '@preact/signals' {
  export interface Signal<T> { value: T; peek(): T; subscribe(listener: (value: T) => void): () => void }
  export interface ReadonlySignal<T> { readonly value: T; peek(): T; subscribe(listener: (value: T) => void): () => void }
  export function signal<T>(value: T): Signal<T>;
  export function computed<T>(reckon: () => T): ReadonlySignal<T>;
  export function effect(run: () => void | (() => void)): () => void;
  export function batch<T>(change: () => T): T;
  export function useSignal<T>(value: T): Signal<T>;
}
