package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/pprof"
	"strings"
)

// profiles are the flags before the command that measure a run, for developers.
// They are read before all others, so that what is measured is the whole run.
const (
	cpuProfile = "--cpuprofile" // FILE: where the time went
	memProfile = "--memprofile" // FILE: what was allocated, and what is still in use
)

// profile measures one run.
type profile struct {
	cpu    *os.File // nil: not asked for
	memory string   // "": not asked for
}

// profiled takes the profile flags from the front of the words, and begins.
func profiled(args []string) (p *profile, rest []string, err error) {
	p = &profile{}
	var cpu string
	for len(args) > 0 {
		name, file, has := strings.Cut(args[0], "=")
		if name != cpuProfile && name != memProfile {
			break
		}
		args = args[1:]
		if !has && len(args) > 0 {
			file, args = args[0], args[1:]
		}
		if file == "" {
			return nil, nil, &usageError{"flag " + name + " needs the name of a file", ""}
		}
		if name == cpuProfile {
			cpu = file
		} else {
			p.memory = file
		}
	}
	if cpu == "" {
		return p, args, nil
	}
	if p.cpu, err = os.Create(cpu); err != nil {
		return nil, nil, err
	}
	if err := pprof.StartCPUProfile(p.cpu); err != nil {
		return nil, nil, errors.Join(err, p.cpu.Close())
	}
	return p, args, nil
}

// write ends the profiles. The run's answer stands whether or not its profile
// could be written, so a failure here is only reported.
func (p *profile) write(stderr io.Writer) {
	if p.cpu != nil {
		pprof.StopCPUProfile()
		if err := p.cpu.Close(); err != nil {
			fmt.Fprintln(stderr, "asfound:", err)
		}
	}
	if p.memory != "" {
		if err := writeHeap(p.memory); err != nil {
			fmt.Fprintln(stderr, "asfound:", err)
		}
	}
}

func writeHeap(name string) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	runtime.GC() // so that only what is still in use is left
	return errors.Join(pprof.WriteHeapProfile(f), f.Close())
}
