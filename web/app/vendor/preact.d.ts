export * from "./preact.entry";
