package main

import (
	"fmt"
	"io"
	"sync"
	"time"
)

// patience is how long a piece of work may take before a terminal is told of it.
const patience = 300 * time.Millisecond

// meter tells on a terminal what takes long and how far it is, on one line that is wiped in the end. A nil meter tells nothing.
type meter struct {
	w        io.Writer
	patience time.Duration // 0: at once

	mu    sync.Mutex
	line  string // what there is to tell
	due   bool   // the work has taken long enough to tell of it
	shown string // the line as it stands
	timer *time.Timer
}

// stage begins a piece of work and returns what is to be told the share done, from 0 to 1; nil for a nil meter.
func (m *meter) stage(what string) func(done float64) {
	if m == nil {
		return nil
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.stop()
	m.line, m.due = what, m.due || m.patience == 0
	if m.due {
		m.show(m.line)
	} else {
		m.timer = time.AfterFunc(m.patience, m.wake)
	}
	return func(done float64) { m.tell(fmt.Sprintf("%s: %.0f %%", what, 100*done)) }
}

// wake shows the line of work that has taken long enough.
func (m *meter) wake() {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.timer != nil {
		m.due = true
		m.show(m.line)
	}
}

// tell replaces the line.
func (m *meter) tell(line string) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.line = line; m.due {
		m.show(line)
	}
}

// end wipes the line.
func (m *meter) end() {
	if m == nil {
		return
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.stop()
	m.due = false
	m.show("")
}

func (m *meter) stop() {
	if m.timer != nil {
		m.timer.Stop()
		m.timer = nil
	}
}

// show replaces the line as it stands if it changes.
func (m *meter) show(line string) {
	if line == m.shown {
		return
	}
	fmt.Fprintf(m.w, "\r%-*s\r%s", len(m.shown), "", line)
	m.shown = line
}
