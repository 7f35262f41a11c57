// Pages of a PDF as pictures. The reader is large, so it is fetched when a PDF
// is first opened.

/** page draws one page, counted from 1, its longer side the given pixels. */
export async function page(blob: Blob, number: number, longest: number): Promise<{ canvas: HTMLCanvasElement; pages: number; inches: [number, number] }> {
  const { openPDF } = await import("../vendor/pdf.js");
  const pdf = await openPDF(new Uint8Array(await blob.arrayBuffer()));
  try {
    const p = await pdf.getPage(Math.min(Math.max(1, number), pdf.numPages));
    const full = p.getViewport({ scale: 1 }); // a point, 1/72 in, to a unit
    const view = p.getViewport({ scale: longest / Math.max(full.width, full.height) });
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(view.width);
    canvas.height = Math.round(view.height);
    await p.render({ canvas, viewport: view, background: "#fff" }).promise;
    return { canvas, pages: pdf.numPages, inches: [full.width / 72, full.height / 72] };
  } finally {
    await pdf.loadingTask.destroy();
  }
}
