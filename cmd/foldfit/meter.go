package main

import (
	"fmt"
	"io"
	"time"
)

// patience is how long a piece of work may take before a terminal is told how far it is.
const patience = 300 * time.Millisecond

// meter tells on a terminal what takes long and how far it is, on one line that is wiped in the end. A nil meter tells nothing.
type meter struct {
	w     io.Writer
	now   func() time.Time
	begun time.Time // of the stage
	shown string    // the line as it stands
}

// stage begins a piece of work and returns what is to be told the share done, from 0 to 1; nil for a nil meter.
func (m *meter) stage(what string) func(done float64) {
	if m == nil {
		return nil
	}
	m.begun = m.now()
	return func(done float64) {
		if m.now().Sub(m.begun) >= patience {
			m.show(fmt.Sprintf("%s: %.0f %%", what, 100*done))
		}
	}
}

// end wipes the line.
func (m *meter) end() {
	if m != nil {
		m.show("")
	}
}

// show replaces the line if it changes.
func (m *meter) show(line string) {
	if line == m.shown {
		return
	}
	fmt.Fprintf(m.w, "\r%-*s\r%s", len(m.shown), "", line)
	m.shown = line
}
