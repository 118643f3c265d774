package main

import (
	"bytes"
	"testing"
	"time"
)

func TestMeter(t *testing.T) {
	var out bytes.Buffer
	m := &meter{w: &out}
	tell := m.stage("proving the motion")
	tell(0.5)
	tell(0.501) // nothing new
	m.end()
	m.end()
	if got, want := out.String(), "\r\rproving the motion\r                  \rproving the motion: 50 %\r                        \r"; got != want {
		t.Errorf("shows %q, want %q", got, want)
	}
	out.Reset()
	m = &meter{w: &out, patience: time.Hour}
	m.stage("reading")(0.2)
	m.stage("measuring gaps")
	m.end()
	if out.Len() > 0 {
		t.Errorf("short work shows %q", out.String())
	}
	var none *meter
	if none.stage("nothing") != nil {
		t.Error("a meter that is not there asks to be told")
	}
	none.end()
}

// Work that is never told how far it is shows after a while all the same, and not once it has ended.
func TestMeterWakes(t *testing.T) {
	var out bytes.Buffer
	m := &meter{w: &out, patience: time.Hour}
	m.stage("reading tray.stl")
	m.wake()
	m.stage("measuring gaps") // told at once: the user waits already
	m.end()
	m.wake()
	if got, want := out.String(), "\r\rreading tray.stl\r                \rmeasuring gaps\r              \r"; got != want {
		t.Errorf("shows %q, want %q", got, want)
	}
}
