package main

import (
	"bytes"
	"testing"
	"time"
)

func TestMeter(t *testing.T) {
	var out bytes.Buffer
	now := time.Time{}
	m := &meter{w: &out, now: func() time.Time { return now }}
	tell := m.stage("proving the motion")
	tell(0.2) // too soon to be worth a word
	if out.Len() > 0 {
		t.Errorf("a short piece of work shows %q", out.String())
	}
	now = now.Add(patience)
	tell(0.5)
	tell(0.501) // nothing new
	m.end()
	m.end()
	if got, want := out.String(), "\r\rproving the motion: 50 %\r                        \r"; got != want {
		t.Errorf("shows %q, want %q", got, want)
	}
	var none *meter
	if none.stage("nothing") != nil {
		t.Error("a meter that is not there asks to be told")
	}
	none.end()
}
