package sandbox

import (
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"runtime/metrics"
	"syscall"

	"github.com/fxamacker/cbor/v2"

	"kitmuster/lint"
)

// Serve is the other side of a Pool: it reads from in what ready is given, and then jobs, and answers each on out by what ready made. An
// answer says what was read for it where work does.
// Once the other side is gone it calls gone, which has to end the process: an evaluation that never finishes would outlive it otherwise.
func Serve(in io.Reader, out io.Writer, gone func(), ready func(given []byte) (work func(lint.Job) (lint.Answer, error), err error)) error {
	enc, dec := cbor.NewEncoder(out), lint.Packing.NewDecoder(in)
	var given []byte
	if err := dec.Decode(&given); err != nil {
		gone()
		return err
	}
	work, err := ready(given)
	if err != nil {
		return err
	}
	if err := enc.Encode(true); err != nil { // ready
		return err
	}
	jobs := make(chan lint.Job)
	go func() {
		for {
			var j lint.Job
			if dec.Decode(&j) != nil {
				gone()
				return
			}
			jobs <- j
		}
	}()
	for {
		a, err := work(<-jobs)
		if err != nil {
			return err
		}
		if err := enc.Encode(Reply{Answer: a, Grown: heap() > grown}); err != nil {
			return err
		}
	}
}

// Confine bounds the memory and the stack of this process, and leaves signals to the one that started it: a terminal interrupts its whole
// group, and who handed out the work decides.
func Confine(memory Bytes) error {
	signal.Ignore(os.Interrupt, syscall.SIGTERM)
	if err := limitMemory(uint64(memory)); err != nil {
		return err
	}
	debug.SetMaxStack(int(memory / 8)) // what goes into itself for good is told from what is merely large
	return nil
}

// heap is what the program holds for its values, in bytes.
func heap() uint64 {
	s := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}, {Name: "/memory/classes/heap/unused:bytes"}, {Name: "/memory/classes/heap/free:bytes"}}
	metrics.Read(s)
	var n uint64
	for i := range s {
		n += s[i].Value.Uint64()
	}
	return n
}
