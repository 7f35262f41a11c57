// What the tracing screen uses of pdf.js.
export interface View { width: number; height: number }
export interface Page {
  getViewport(o: { scale: number }): View;
  render(o: { canvas: HTMLCanvasElement; viewport: View; background: string }): { promise: Promise<void> };
}
export function openPDF(data: Uint8Array): Promise<{
  numPages: number;
  getPage(n: number): Promise<Page>;
  loadingTask: { destroy(): Promise<void> };
}>;
