// The engine in a worker: loads the same Go code that the server runs and
// answers for the page, one question after the other. All files are of one
// version, which stands in the worker's own address.
const version = self.location.search;
const waiting = [];
let run = null;

async function start() {
  importScripts("/static/wasm_exec.js" + version);
  const go = new Go();
  const r = await fetch("/static/engine.wasm" + version);
  if (!r.ok) throw new Error("the engine is not built in here");
  // As it comes in: the browser compiles what is there already, and may keep
  // what it compiled for the next start.
  const { instance } = await WebAssembly.instantiateStreaming(r, go.importObject);
  // Go runs until it ends, which it does only when something is badly wrong.
  go.run(instance).then(() => postMessage({ failed: "the engine ended" }));
  run = self.asfound.run;
  postMessage({ ready: true });
  waiting.splice(0).forEach(answer);
}

function answer({ id, stage, body }) {
  try {
    postMessage({ id, ...run(stage, body) });
  } catch (e) {
    postMessage({ id, ok: false, error: JSON.stringify({ error: `the engine failed: ${e.message}` }) });
  }
}

onmessage = ({ data }) => (run ? answer(data) : waiting.push(data));
start().catch((e) => postMessage({ failed: e.message }));
