// Reads PDFs (pdfjs-dist, Apache-2.0) in the page's own thread, so that no
// worker of its own is needed, with the decoder of scanned black-and-white
// pages (jbig2.wasm: JBIG2 and fax) at hand. The legacy build runs on phones
// that are some years old.
import * as worker from "pdfjs-dist/legacy/build/pdf.worker.mjs";
import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";
import jbig2 from "pdfjs-dist/wasm/jbig2.wasm";

globalThis.pdfjsWorker = worker;

class Decoders {
	async fetch({ filename }) {
		if (filename === "jbig2.wasm") return jbig2;
		throw new Error(`no ${filename} here`);
	}
}

export const openPDF = (data) =>
	getDocument({ data, BinaryDataFactory: Decoders, useWorkerFetch: false, wasmUrl: "/", enableXfa: false }).promise;
