package draw

import (
	"math"
	"strings"
	"testing"
)

// Letters stay within the room that labels reckon with.
func TestLettersFitTheirLine(t *testing.T) {
	f, err := NewFace()
	if err != nil {
		t.Fatal(err)
	}
	for r := rune(33); r < 0x24f; r++ {
		if r == 127 || strings.ContainsRune("ÅǺ", r) || r >= 0x80 && r < 0xa1 {
			continue
		}
		for _, s := range f.glyph(r).strokes {
			for _, p := range s.Pts {
				if r < 127 && (p.Y > Rise || p.Y < -Sink) {
					t.Errorf("%q reaches from the base line to %v em", r, p.Y)
				}
				if math.Abs(p.X) > 2 {
					t.Errorf("%q is %v em wide", r, p.X)
				}
			}
		}
	}
	if w := f.Width("W", 1); w < 0.5 || w > 1.2 {
		t.Errorf("a W is %v em wide", w)
	}
}
