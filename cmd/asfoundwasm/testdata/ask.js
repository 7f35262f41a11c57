// Asks the engine as a page's worker does: node ask.js wasm_exec.js engine.wasm requests.json
// where the requests are [[stage, request], ...]; prints the answers as JSON.
"use strict";
const fs = require("fs");
const [loader, engine, requests] = process.argv.slice(2);
globalThis.fs = fs;
require(fs.realpathSync(loader));
const go = new Go();
WebAssembly.instantiate(fs.readFileSync(engine), go.importObject).then(({ instance }) => {
  go.run(instance);
  const answers = JSON.parse(fs.readFileSync(requests, "utf8")).map(([stage, request]) => {
    const start = performance.now();
    const answer = asfound.run(stage, request);
    return { ...answer, milliseconds: performance.now() - start };
  });
  fs.writeSync(1, JSON.stringify({ answers, misused: [asfound.run(), asfound.run("check", {}), asfound.run(1, "{}")] }));
  process.exit(0);
});
