// What the app uses of idb 8.

declare module 'idb' {
  export interface Store {
    add(value: unknown, key?: IDBValidKey): Promise<IDBValidKey>;
    put(value: unknown, key?: IDBValidKey): Promise<IDBValidKey>;
    delete(key: IDBValidKey): Promise<void>;
    get(key: IDBValidKey): Promise<any>;
    getAll(query?: IDBValidKey | IDBKeyRange): Promise<any[]>;
    getAllKeys(): Promise<IDBValidKey[]>;
    clear(): Promise<void>;
    createIndex(name: string, keyPath: string | string[]): unknown;
    index(name: string): { getAll(query?: IDBValidKey | IDBKeyRange, count?: number): Promise<any[]> };
  }
  export interface Transaction { readonly store: Store; readonly done: Promise<void>; objectStore(name: string): Store }
  export interface IDBPDatabase {
    get(store: string, key: IDBValidKey): Promise<any>;
    getAll(store: string, query?: IDBValidKey | IDBKeyRange): Promise<any[]>;
    getAllFromIndex(store: string, index: string, query?: IDBValidKey | IDBKeyRange, count?: number): Promise<any[]>;
    countFromIndex(store: string, index: string, query?: IDBValidKey | IDBKeyRange): Promise<number>;
    put(store: string, value: unknown, key?: IDBValidKey): Promise<IDBValidKey>;
    delete(store: string, key: IDBValidKey): Promise<void>;
    transaction(stores: string | string[], mode: 'readonly' | 'readwrite', options?: { durability: 'default' | 'strict' | 'relaxed' }): Transaction;
    getAllKeys(store: string): Promise<IDBValidKey[]>;
    createObjectStore(name: string, options?: IDBObjectStoreParameters): Store;
    deleteObjectStore(name: string): void;
    close(): void;
  }
  export interface Callbacks {
    upgrade?(db: IDBPDatabase, oldVersion: number, newVersion: number | null, transaction: Transaction): void;
    blocked?(currentVersion: number, blockedVersion: number | null, event: IDBVersionChangeEvent): void;
    blocking?(currentVersion: number, blockedVersion: number | null, event: IDBVersionChangeEvent): void;
    terminated?(): void;
  }
  export function openDB(name: string, version: number, callbacks?: Callbacks): Promise<IDBPDatabase>;
}
