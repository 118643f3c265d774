package tolerance

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/designfile"
	"foldfit/fold/flat"
)

// divide reads and divides a design.
func divide(t testing.TB, src string) *fold.Tree {
	t.Helper()
	d, _, problems := designfile.Parse("test.yaml", []byte("foldfit: 1\n"+src), designfile.Options{})
	if len(problems) > 0 {
		t.Fatalf("%v\n%s", problems, src)
	}
	tree, problems := fold.Divide(d)
	if len(problems) > 0 {
		t.Fatalf("%v\n%s", problems, src)
	}
	return tree
}

// place folds a board, to the design's angles where none are given.
func place(t testing.TB, tree *fold.Tree, angles ...float64) *fold.Folded {
	t.Helper()
	if angles == nil {
		angles = tree.Angles()
	}
	f, err := tree.Place(angles)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// stacks is a flex whose neutral surface is off its middle, and a rigid stack-up about it.
const stacks = `stackups:
  film: {layers: [{material: polyimide, thickness: 0.1}, {material: copper-ra, thickness: 0.018}]}
  plate: {rigid: true, layers: [{material: fr4, thickness: 0.4}, {stackup: film}, {material: fr4, thickness: 0.2}]}
flex: film
`

// chain is a strip 130 x 20 with three hinges at any slant, angle and radius, a slot that makes two bends of the middle one,
// and components on flats and in a bend. The base is at either end; mirrored, the board lies on the other side of x = 65.
func chain(r *rand.Rand, mirrored bool) string {
	x := func(v float64) float64 {
		if mirrored {
			return 130 - v
		}
		return v
	}
	at := 3.0
	if r.IntN(2) == 0 {
		at = 127
	}
	out := fmt.Sprintf("outline: [[0, 0], [130, 0], [130, 20], [0, 20]]\ncutouts: [[[%v, 8], [%v, 8], [%v, 11], [%v, 11]]]\n", x(48), x(82), x(82), x(48)) + stacks +
		fmt.Sprintf("base: {at: [%v, 10]}\nplace: {turn: [20, 30, 40], move: [1, 2, 3]}\nhinges:\n", x(at))
	for i := range 3 {
		mid, lean := 30+35*float64(i), 6*r.Float64()-3
		out += fmt.Sprintf("  h%d: {line: [[%v, -1], [%v, 21]], angle: %v, radius: %v}\n", i, x(mid-lean), x(mid+lean),
			math.Copysign(30+120*r.Float64(), r.Float64()-0.5), 0.5+2*r.Float64())
	}
	return out + fmt.Sprintf(`components:
  U1: {side: top, at: [%v, 5], size: [3, 2, 1.5], turn: 0}
  U2: {side: bottom, at: [%v, 4], boxes: [[-1, -1, 0, 1, 1, 2]]}
  U3: {side: top, at: [%v, 15], size: [2, 2, 1]}
`, x(12), x(30.3), x(118))
}

// image returns where a material point of a body goes, by the folded board itself.
func image(f *fold.Folded, i int, p flat.Pt, z float64) mgl64.Vec3 {
	b := &f.Tree.Bodies[i]
	if b.Kind == fold.KindBend {
		return f.BendPoint(b.Bend, p, z)
	}
	return fold.Apply(f.BodyMotion(b), mgl64.Vec3{p.X, p.Y, z})
}

// somewhere returns a material point of a body, inside its region or at a component.
func somewhere(r *rand.Rand, b *fold.Body) (flat.Pt, float64) {
	z := b.Faces[0] + r.Float64()*(b.Faces[1]-b.Faces[0])
	if b.Kind == fold.KindComponent {
		return b.At.Add(flat.Pt{X: r.Float64() - 0.5, Y: r.Float64() - 0.5}), z
	}
	box := b.Region.Box()
	for range 100 {
		p := flat.Pt{X: box.Min.X + r.Float64()*(box.Max.X-box.Min.X), Y: box.Min.Y + r.Float64()*(box.Max.Y-box.Min.Y)}
		if b.Region.Contains(p) && p.Dist(b.Region.Inside()) < 100 {
			return p, z
		}
	}
	return b.Region.Inside(), z
}

// near compares two numbers.
func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// nearVec compares two points or velocities.
func nearVec(t testing.TB, what string, got, want mgl64.Vec3, tol float64) {
	t.Helper()
	if !(got.Sub(want).Len() <= tol) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}
