//go:build js && wasm

// Command core is the core of Wrackbook for the browser's worker. It sets one object,
// globalThis.wrackbookCore, and then waits for calls for ever:
//
//	call(name, requestJSON, nowMs) -> answerJSON
//	openCatalogue(Uint8Array)      -> "" or an error as JSON
//	openLedger(recordsJSON)        -> the same: what verdicts count against
//	addToLedger(recordsJSON)       -> the same: records that are new, changed or removed
//	openTanks(recordsJSON)         -> the same: what the clock of the tanks is reckoned from
//	addToTanks(recordsJSON)        -> the same: records that are new, changed or removed
//	id                             -> which source this was built from
//
// Errors come back as {"error":{"code","message","field"}}, the same as from the server.
// Nothing here decides anything: the calls are those of internal/core.
package main

import (
	"encoding/json"
	"fmt"
	"syscall/js"
	"time"

	"wrackbook/internal/core"
	"wrackbook/internal/fault"
)

// id is set by the build (pwa/build) to a hash over the sources of the core.
var id = "unbuilt"

func main() {
	c := core.New()
	js.Global().Set("wrackbookCore", map[string]any{
		"id":            id,
		"call":          js.FuncOf(func(_ js.Value, args []js.Value) any { return call(c, args) }),
		"openCatalogue": js.FuncOf(func(_ js.Value, args []js.Value) any { return openCatalogue(c, args) }),
		"openLedger":    js.FuncOf(func(_ js.Value, args []js.Value) any { return fill(c.OpenLedger, args) }),
		"addToLedger":   js.FuncOf(func(_ js.Value, args []js.Value) any { return fill(c.AddToLedger, args) }),
		"openTanks":     js.FuncOf(func(_ js.Value, args []js.Value) any { return fill(c.OpenTanks, args) }),
		"addToTanks":    js.FuncOf(func(_ js.Value, args []js.Value) any { return fill(c.AddToTanks, args) }),
	})
	select {}
}

func call(c *core.Core, args []js.Value) (answer string) {
	defer catch(&answer)
	if len(args) != 3 || args[0].Type() != js.TypeString || args[1].Type() != js.TypeString || args[2].Type() != js.TypeNumber {
		return envelope(fault.New(fault.BadInput, "", "The core is called with a name, a request as JSON and the time in milliseconds."))
	}
	body, err := c.Call(args[0].String(), []byte(args[1].String()), time.UnixMilli(int64(args[2].Float())).UTC())
	if err != nil {
		return envelope(err)
	}
	return string(body)
}

func openCatalogue(c *core.Core, args []js.Value) (answer string) {
	defer catch(&answer)
	if len(args) != 1 || !args[0].InstanceOf(js.Global().Get("Uint8Array")) {
		return envelope(fault.New(fault.BadInput, "", "The catalogue is opened from its bytes."))
	}
	data := make([]byte, args[0].Length())
	js.CopyBytesToGo(data, args[0])
	if err := c.OpenCatalogue(data); err != nil {
		return envelope(err)
	}
	return ""
}

// fill gives the ledger or the tanks their records.
func fill(put func([]byte) error, args []js.Value) (answer string) {
	defer catch(&answer)
	if len(args) != 1 || args[0].Type() != js.TypeString {
		return envelope(fault.New(fault.BadInput, "", "What the core holds is given as records in JSON."))
	}
	if err := put([]byte(args[0].String())); err != nil {
		return envelope(err)
	}
	return ""
}

// catch turns a panic, which is a defect of ours, into an answer: a panic that leaves a
// callback would end the program and with it every later call.
func catch(answer *string) {
	if r := recover(); r != nil {
		*answer = envelope(fault.From(fmt.Errorf("panic: %v", r)))
	}
}

func envelope(err error) string {
	f := fault.From(err)
	body, _ := json.Marshal(map[string]any{"error": map[string]string{
		"code": string(f.Code), "message": f.Message, "field": f.Field,
	}})
	return string(body)
}
