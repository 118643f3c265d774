package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/signal"
	"runtime"
	"strings"
	"testing"
	"time"
)

// interrupter is a terminal at which somebody presses Ctrl-C as soon as a share is told.
type interrupter struct {
	t     *testing.T
	heard chan os.Signal
	told  bytes.Buffer
}

func (i *interrupter) Write(b []byte) (int, error) {
	if first := !strings.Contains(i.told.String(), "%"); first && bytes.Contains(b, []byte("%")) {
		self, err := os.FindProcess(os.Getpid())
		if err == nil {
			err = self.Signal(os.Interrupt)
		}
		if err != nil {
			i.t.Fatal(err)
		}
		<-i.heard
		time.Sleep(20 * time.Millisecond) // others hear of it at about the same time
	}
	return i.told.Write(b)
}

// toAndFro is a strip that is bent and straightened many times, in a case far enough away or, deep, too near.
func toAndFro(deep float64) string {
	steps := ""
	for i := range 200 {
		steps += fmt.Sprintf("  - {bend: [neck], to: %d}\n", 90*((i+1)%2))
	}
	return fmt.Sprintf(`foldfit: 1
outline: [[0, 0], [60, 0], [60, 20], [0, 20]]
stackups: {film: {thickness: 0.2, copper-layers: 2}, plate: {thickness: 1.6, rigid: true}}
flex: film
sections: {main: {stackup: plate, area: {rect: [0, 0, 24, 20]}}, wing: {stackup: plate, area: {rect: [40, 0, 60, 20]}}}
hinges: {neck: {line: [[32, -1], [32, 21]], angle: 90, radius: 3}}
enclosure: {case: {box: [[-10, -5, -9], [20, 25, %g]]}}
sequence:
%s  - {bend: [neck]}
`, deep, steps)
}

// interrupt runs a command line at such a terminal.
func interrupt(t *testing.T, stdin string, args ...string) (r result, told string) {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("a process cannot interrupt itself on Windows")
	}
	i := &interrupter{t: t, heard: make(chan os.Signal, 1)}
	signal.Notify(i.heard, os.Interrupt)
	defer signal.Stop(i.heard)
	var out, errs bytes.Buffer
	r.code = execute(args, console{in: strings.NewReader(stdin), out: &out, err: &errs, meter: &meter{w: i}})
	r.out, r.err = out.String(), errs.String()
	return r, i.told.String()
}

// Ctrl-C while the motion is being proven: what is proven by then is printed, as incomplete and with status 130; with an
// error found before, with status 1. The line that told how far it was is gone.
func TestInterruptedCheck(t *testing.T) {
	for _, c := range []struct {
		top     float64
		status  int
		verdict string
	}{{-5, exitStopped, "incomplete"}, {-0.5, exitFailed, "fail"}} {
		r, told := interrupt(t, toAndFro(c.top), "check", "-", "--json")
		var doc struct {
			Verdict    string
			Motion     struct{ Covered bool }
			NotChecked []struct{ What, Why string } `json:"not_checked"`
		}
		if err := json.Unmarshal([]byte(r.out), &doc); err != nil {
			t.Fatal(err, r.out)
		}
		if r.code != c.status || doc.Verdict != c.verdict || doc.Motion.Covered || !strings.Contains(fmt.Sprint(doc.NotChecked), "stopped in step") {
			t.Errorf("case up to %v: status %d, %+v, %s", c.top, r.code, doc, r.err)
		}
		if !strings.Contains(told, "proving the motion: ") || !strings.HasSuffix(told, " \r") {
			t.Errorf("told %q", told)
		}
	}
}

// Commands that write files leave everything as it was.
func TestInterruptedWriters(t *testing.T) {
	dir := t.TempDir()
	for _, args := range [][]string{{"build", "-", "-o", dir + "/all"}, {"sheet", "-", "-o", dir + "/sheet.svg"}} {
		r, _ := interrupt(t, toAndFro(-5), args...)
		left, err := os.ReadDir(dir)
		if err != nil || r.code != exitStopped || len(left) > 0 || !strings.Contains(r.err, "nothing was written") {
			t.Errorf("%v: status %d, %d files, %v, %s", args, r.code, len(left), err, r.err)
		}
	}
}
