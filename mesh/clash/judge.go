package clash

import (
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold/finding"
	"foldfit/mesh"
)

// judged is a gap with what its finding needs.
type judged struct {
	Gap
	pair  *pair
	read  reading // of pair.a against pair.b
	flat  *[2]float64
	slack float64 // difference up to which the gap counts as the required one
	chord float64 // the part of Gap - Low that finer meshes of the board would take away
}

// effective returns the gap with overlaps that count as touching taken as 0.
func (j *judged) effective() float64 {
	if j.Gap.Gap < 0 && j.Gap.Gap >= -Touch {
		return 0
	}
	return j.Gap.Gap
}

// leastShrink is by how much (mm) folding must reduce a gap to be the cause of a finding.
const leastShrink = 1e-9

// finerSteps are the factors by which the chord is refined, one after the other, while the verdict hangs on it.
var finerSteps = []float64{10, 100}

// judge measures a pair and compares it with what is required; ok is false if the gap is limit or more. While the gap is
// nearer to a limit than the chord error at the nearest points, it is measured again between finer meshes.
func (c *checker) judge(p *pair, limit float64) (j judged, ok bool) {
	margin := 2*(p.a.mesh.Chord+p.b.mesh.Chord) + p.b.grows
	if p.apart > limit+margin {
		return j, false
	}
	a, b := p.a, p.b
	if p.apart == 0 {
		c.doubt(a, b)
	}
	j, ok = c.compare(p, a, b, limit+margin)
	for i, step := range finerSteps {
		if !ok || !j.doubtful() && (j.Rule == "" || i > 0) { // what is reported is measured more finely once
			break
		}
		fa, fb := c.refined(a, step), c.refined(b, step)
		if fa == a && fb == b {
			break
		}
		j, ok = c.compare(p, fa, fb, limit+margin)
	}
	return j, ok
}

// doubt says that it was not checked whether a body lies in the material of a closed piece where that cannot be told.
func (c *checker) doubt(body, piece *member) {
	if piece.wall == nil || !piece.closed || len(body.points) == 0 || !piece.shape().doubtful(body.points[0]) {
		return
	}
	c.unchecked = append(c.unchecked, finding.Unchecked{What: "inside", On: []string{body.name, piece.name},
		Why: "a shell of the mesh lies within another and faces the same way: a cavity turned the wrong way, or solid within solid; distances to its surface are judged all the same"})
}

// doubtful reports whether finer meshes might change the verdict: the gap is as near as their chord error to contact, to
// the required clearance, or to the gap in the flat state where that is what is required.
func (j *judged) doubtful() bool {
	near := func(limit float64) bool { return math.Abs(j.Gap.Gap-limit) < 2*j.chord }
	if j.pair.rel == layout {
		return false
	}
	return near(0) || near(j.Required) || j.Flat != nil && j.Gap.Gap < j.pair.required && near(*j.Flat)
}

// compare measures and judges a pair between the given meshes of it.
func (c *checker) compare(p *pair, a, b *member, limit float64) (j judged, ok bool) {
	r, ok := c.read(p, a, b, limit)
	if !ok {
		return j, false
	}
	if r.dir == (vec{}) {
		r.dir = wayFromPlane(a, b, &r)
	}
	r.gap -= b.grows
	j = judged{pair: p, read: r, slack: rounding(a, b), flat: a.flatAt(r.a, r.x)}
	j.Gap = Gap{Between: [2]string{a.name, b.name}, Kind: kindOf(a, b), Gap: r.gap, Required: p.required,
		At: [2]mgl64.Vec3{positive(r.x), positive(r.y)}, Judged: p.rel != layout, Posture: c.posture}
	ca, cb := a.chordAt(r.x, along(vec{}, -1, r.dir)), b.chordAt(r.y, r.dir)
	j.Low, j.chord = r.gap-ca-cb, ca
	if b.body != nil {
		j.chord += cb
	}
	if a.name > b.name {
		j.Between[0], j.Between[1], j.At[0], j.At[1] = b.name, a.name, j.At[1], j.At[0]
	}
	if j.flat == nil {
		j.flat = b.flatAt(r.b, r.y)
	}
	if a.body != nil && b.body != nil {
		if flat, ok := measure(a.flatShape(), b.flatShape(), math.Inf(1)); ok {
			j.Flat = &flat.gap
			j.Required = min(j.Required, flat.gap, c.arch(a.body, b.body))
			j.Judged = j.Judged && r.gap < flat.gap-leastShrink
		}
	}
	j.Rule = j.verdict()
	return j, true
}

// verdict returns the rule that the gap breaks, "" for none.
func (j *judged) verdict() string {
	gap := j.effective()
	switch {
	case !j.Judged || gap >= j.Required-max(j.slack, j.chord, 1e-9*math.Abs(j.Required)):
		return ""
	case gap < 0:
		return "contact"
	}
	return "clearance"
}

// finerKey names a finer mesh of a body.
type finerKey struct {
	index int
	step  float64
}

// refined returns a body with a chord smaller by step; the member itself if its mesh is exact, or a wall.
func (c *checker) refined(m *member, step float64) *member {
	if m.body == nil || m.mesh.Chord == 0 {
		return m
	}
	key := finerKey{m.index, step}
	if f, ok := c.finer[key]; ok {
		return f
	}
	f := m
	if b, err := mesh.SkinBody(c.folded, m.index, c.chord/step); err == nil {
		f = bodyMember(c.tree, c.housing, b)
	}
	c.finer[key] = f
	return f
}
