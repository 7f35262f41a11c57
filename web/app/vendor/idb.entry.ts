// IndexedDB with promises.
export * from "idb";
