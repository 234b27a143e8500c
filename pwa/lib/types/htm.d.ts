// What the app uses of htm 3.

declare module 'htm' {
  const htm: {
    bind<Result>(h: (type: unknown, props: object | null, ...children: any[]) => Result): (strings: TemplateStringsArray, ...values: any[]) => Result;
  };
  export default htm;
}
