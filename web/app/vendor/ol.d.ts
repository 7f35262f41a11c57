export * from "./ol.entry";
