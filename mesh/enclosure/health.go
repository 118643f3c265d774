package enclosure

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/go-gl/mathgl/mgl64"
)

// Health says what a file held, how sound its mesh is, and what was mended.
type Health struct {
	Format     string  // "binary STL", "text STL", "OBJ", "GLB", "glTF" or "3MF"
	Unit       string  // of the file's numbers: "mm", "in", ...
	UnitFrom   string  // who says so: "assumed", "asked" or "file"
	Triangles  int     // kept
	Shells     int     // pieces that share no point
	Nested     int     // closed shells within another closed one
	Cavities   int     // those of them that face the other way: hollows
	Open       int     // edges that only one triangle has
	Overused   int     // edges that more than two triangles have
	Twisted    int     // edges whose two triangles disagree about which side is outside
	Degenerate int     // triangles without area, dropped
	Duplicates int     // repeated triangles, dropped
	Turned     int     // single triangles that faced the wrong way, turned
	Inverted   int     // closed shells that were inside out, turned
	Trailing   int     // bytes after the last facet of a binary file, ignored
	Unnested   bool    // too many shells: it was not looked which lie within others
	TwoSided   int     // shells without room in them though their edges are closed: skins with a face on either side
	Closed     bool    // each edge is run through as often one way as the other, and no shell is two-sided: inside and outside can be told apart
	Grain      float64 // mm: step between neighbouring numbers at the farthest coordinate where the file holds 32-bit ones, else 0
	Box        [2]mgl64.Vec3
	Notes      []string // what the user should know; each is a sentence that wants the file's name before it
}

// Line returns the health in one line.
func (h Health) Line() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %s", count(h.Triangles, "triangle"), count(h.Shells, "shell"))
	if h.Closed {
		b.WriteString(", closed")
	}
	faults := []struct {
		n          int
		what, tail string
	}{
		{h.Open, "open edge", ""},
		{h.Overused, "edge", " with more than two triangles"},
		{h.Twisted, "edge", " where outside changes"},
		{h.TwoSided, "shell", " with faces on either side and nothing between"},
	}
	for _, f := range faults {
		if f.n > 0 {
			fmt.Fprintf(&b, ", %s%s", count(f.n, f.what), f.tail)
		}
	}
	if !h.Closed {
		b.WriteString(": inside and outside cannot be told apart")
	}
	if h.Degenerate > 0 || h.Duplicates > 0 {
		fmt.Fprintf(&b, "; dropped %s without area, %s repeated", digits(h.Degenerate), digits(h.Duplicates))
	}
	if h.Turned > 0 {
		fmt.Fprintf(&b, "; %s faced the wrong way, turned", count(h.Turned, "triangle"))
	}
	if h.Inverted > 0 {
		fmt.Fprintf(&b, "; %s inside out, turned", count(h.Inverted, "shell"))
	}
	if h.Trailing > 0 {
		fmt.Fprintf(&b, "; %s at the end ignored", count(h.Trailing, "byte"))
	}
	return b.String()
}

// count returns "1 triangle", "12 840 triangles".
func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return digits(n) + " " + what + "s"
}

// digits returns a number with its digits in groups of three: "12 840".
func digits(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + " " + s[i:]
	}
	return s
}

// coarse is the step of 32-bit numbers in mm from which on a note names it: half of the depth at which contact counts.
const coarse = 0.0005

// tell writes the notes that follow from the counts.
func (h *Health) tell() {
	note := func(format string, args ...any) { h.Notes = append(h.Notes, fmt.Sprintf(format, args...)) }
	if h.UnitFrom == "assumed" {
		size := h.Box[1].Sub(h.Box[0])
		note("names no units and was read as %s: %.1f x %.1f x %.1f", h.Unit, size[0], size[1], size[2])
	}
	if h.Grain > coarse {
		note("lies so far from its origin that its 32-bit numbers step by %.1g mm: move it nearer before it is written", h.Grain)
	}
	if solid := h.Nested - h.Cavities; solid > 0 {
		note("has %s within another that is no cavity: solid lies within solid there", count(solid, "shell"))
	}
	if h.Open > mostLoose {
		note("has %s, too many to look among them for cracks that rounding has left", count(h.Open, "open edge"))
	}
	if h.Unnested {
		note("has so many shells that it was not looked which lie within others")
	}
}
