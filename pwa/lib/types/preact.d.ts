// What the app uses of preact 10, for tsc 4.8.

declare module 'preact' {
  export interface VNode { readonly type: unknown; readonly props: unknown }
  export type Child = VNode | string | number | boolean | null | undefined | Child[];
  export function h(type: unknown, props: object | null, ...children: Child[]): VNode;
  export function render(tree: Child, parent: Element): void;
}

declare module 'preact/hooks' {
  export function useEffect(effect: () => void | (() => void), inputs?: readonly unknown[]): void;
  export function useLayoutEffect(effect: () => void | (() => void), inputs?: readonly unknown[]): void;
  export function useMemo<T>(make: () => T, inputs?: readonly unknown[]): T;
  export function useMemo<T>(make: () => T, inputs: readonly unknown[]): T;
  export function useRef<T>(initial: T): { current: T };
}
