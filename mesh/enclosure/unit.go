package enclosure

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"
)

// units are the units of mesh files, in mm; those of a design come first.
var units = []struct {
	name string
	mm   float64
}{{"mm", 1}, {"in", 25.4}, {"cm", 10}, {"m", 1000}, {"mil", 0.0254}, {"ft", 304.8}, {"um", 0.001}}

// designUnits is how many of the units a design can name for a mesh.
const designUnits = 5

// sameUnit reports whether two units are equal within rounding.
func sameUnit(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(b) }

// unitName returns the name of a unit given in mm.
func unitName(mm float64) string {
	for _, u := range units {
		if sameUnit(mm, u.mm) {
			return u.name
		}
	}
	return fmt.Sprintf("units of %g mm", mm)
}

// scale returns the size in mm of the file's unit and who says so. asked is what the caller says, 0 for nothing.
func (r *raw) scale(asked float64) (mm float64, from string, err error) {
	switch {
	case !(asked >= 0) || math.IsInf(asked, 0):
		return 0, "", fmt.Errorf("the unit of the mesh is %g mm: it must be a positive number", asked)
	case r.unit > 0 && asked > 0 && !sameUnit(asked, r.unit):
		return 0, "", fmt.Errorf("the design says %s, but %s: leave the unit out of the design, or write the file anew if its size is wrong",
			unitName(asked), r.unitWords)
	case r.unit > 0:
		return r.unit, "file", nil
	case asked > 0:
		return asked, "asked", nil
	}
	return 1, "assumed", nil
}

// A diagonal outside these bounds (mm) looks like a slip of the unit; a housing between the inner ones is likely.
const (
	tiny, huge       = 1, 5000
	likely, unlikely = 10, 2000
)

// slip returns what to say about a mesh whose diagonal (mm) is no housing's in its unit (mm); "" if it may be one.
func slip(diagonal, unit float64) string {
	if diagonal >= tiny && diagonal <= huge || !(diagonal > 0) {
		return ""
	}
	best, off := "", math.Inf(1)
	for _, u := range units[:designUnits] {
		d := diagonal / unit * u.mm
		if o := math.Abs(math.Log(d / 100)); d >= likely && d <= unlikely && o < off {
			best, off = fmt.Sprintf("; in %s it would be %.3g mm", u.name, d), o
		}
	}
	return fmt.Sprintf("is %.3g mm across in %s%s: check its units", diagonal, unitName(unit), best)
}

// grainAt returns the step between neighbouring 32-bit numbers at v.
func grainAt(v float64) float64 {
	f := float32(math.Abs(v))
	return float64(math.Nextafter32(f, math.MaxFloat32) - f)
}

// farthest returns the largest coordinate, without its sign.
func farthest(points []mgl64.Vec3) float64 {
	most := 0.0
	lo, hi := bounds(points)
	for k := range 3 {
		most = max(most, -lo[k], hi[k])
	}
	return most
}
