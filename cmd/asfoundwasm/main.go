//go:build js && wasm

// Command asfoundwasm is the engine in a browser: a thin wrapper of web/api.
// It gives the page one function,
//
//	asfound.run(stage, request) → {ok: true, body} | {ok: false, error}
//
// with request, body and error as JSON text, and runs until the page closes. It
// belongs in a worker: an answer takes time. It never throws; what it cannot
// answer it refuses, and a program that ends anyway (out of memory) must be
// started again.
package main

import (
	"context"
	"encoding/json"
	"runtime/debug"
	"syscall/js"

	"asfound/web/api"
)

// kept caches the results for the page. Calls come one at a time.
var kept api.Memory

func main() {
	// One thread works and collects garbage: a heap of a few megabytes may grow
	// to several times that before a collection.
	debug.SetGCPercent(400)
	js.Global().Set("asfound", map[string]any{"run": js.FuncOf(run)})
	select {} // keep running: the functions are called from outside
}

// run answers one request.
func run(_ js.Value, args []js.Value) any {
	if len(args) != 2 || args[0].Type() != js.TypeString || args[1].Type() != js.TypeString {
		return map[string]any{"ok": false, "error": `{"error":"asfound.run wants a stage and a request, both text"}`}
	}
	answer, err := kept.Run(context.Background(), args[0].String(), []byte(args[1].String()))
	if err != nil {
		text, err := json.Marshal(err)
		if err != nil {
			text = []byte(`{"error":"the engine failed, and cannot say how"}`)
		}
		return map[string]any{"ok": false, "error": string(text)}
	}
	return map[string]any{"ok": true, "body": string(answer)}
}
