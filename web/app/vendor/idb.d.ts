export * from "./idb.entry";
