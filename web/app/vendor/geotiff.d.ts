// What the screen of pictures uses of geotiff.js.
export interface Directory {
  getValue(tag: string): unknown;
}
export interface Image {
  fileDirectory: Directory;
  getWidth(): number;
  getHeight(): number;
  getBitsPerSample(sample?: number): number;
  getSampleFormat(sample?: number): number;
  getGeoKeys(): Record<string, number | string> | null;
  readRGB(o: { window: number[]; interleave: true; enableAlpha: true }): Promise<ArrayLike<number> & { width: number; height: number }>;
}
export function fromBlob(blob: Blob): Promise<{ getImageCount(): Promise<number>; getImage(i: number): Promise<Image> }>;
