// Reads packs of map tiles from a file (pmtiles, BSD-3-Clause).
export { FileSource, PMTiles, TileType } from "pmtiles";
