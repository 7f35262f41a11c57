// What the screen of pictures uses of pmtiles.
export interface Source {
  file: File;
}
export class FileSource implements Source {
  constructor(file: File);
  file: File;
}
export interface Header {
  tileType: number;
  minZoom: number;
  maxZoom: number;
  minLon: number;
  minLat: number;
  maxLon: number;
  maxLat: number;
}
export class PMTiles {
  constructor(source: Source);
  getHeader(): Promise<Header>;
  getZxy(z: number, x: number, y: number): Promise<{ data: ArrayBuffer } | undefined>;
}
export const TileType: { Mvt: number; Mlt: number };
