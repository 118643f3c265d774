package clash

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// chain is a strip with three oblique hinges and a part, angles at random; sometimes it runs into itself.
func chain(r *rand.Rand) string {
	src := "outline: [[0, 0], [80, 0], [80, 10], [0, 10]]\nstackups: {film: {thickness: 0.2}, plate: {thickness: 1, rigid: true}}\nflex: film\n" +
		"base: {at: [1, 1]}\nsections: {main: {stackup: plate, area: {rect: [0, 0, 12, 10]}}, end: {stackup: plate, area: {rect: [68, 0, 80, 10]}}}\n" +
		"clearance: {board: 0.3, components: 0.3, enclosure: 0.4}\ncomponents: {U1: {side: top, at: [6, 5], size: [5, 4, 1.2], turn: 30}, C1: {side: bottom, at: [74, 5], diameter: 4, height: 2}}\nhinges:\n"
	for i := range 3 {
		x, lean := 22+18*float64(i), 6*r.Float64()-3
		src += fmt.Sprintf("  h%d: {line: [[%v, -1], [%v, 11]], angle: %v, radius: %v}\n", i, x-lean, x+lean, math.Round(340*r.Float64()-170), 0.5+math.Round(10*r.Float64())/10)
	}
	return src
}

// On boards at random: what is called a contact is one, by its own depth and direction; what is called clear does not meet.
func TestRandomChains(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	contacts, clear := 0, 0
	for n := range 12 {
		a := board(t, chain(r), 0.05)
		walls := []Wall{wall("lid", -5, -5, 4, 30, 15, 5), wall("post", 20, 12, -20, 22, 14, 20)}
		c := newChecker(a, walls, "folded")
		for _, kind := range []string{"board", "components", "enclosure"} {
			for _, p := range c.pairs(kind) {
				if p.rel != whole {
					continue
				}
				j, ok := c.judge(&p, math.Inf(1))
				x, y := solid{p.a.points, p.a.mesh.Triangles}, solid{p.b.points, p.b.mesh.Triangles}
				switch {
				case !ok:
					t.Errorf("board %d: %s - %s have no distance", n, p.a.name, p.b.name)
				case j.Gap.Gap < -2*Touch && j.chord == 0: // else measured on finer meshes
					contacts++
					checkWayOut(t, fmt.Sprintf("board %d, %s - %s", n, p.a.name, p.b.name), x, y, overlap{depth: -j.Gap.Gap, dir: j.read.dir})
				case j.Gap.Gap > 0.2:
					clear++
					if d := bruteDistance(x.shape(), y.shape()); !close2(d, j.Gap.Gap, 2*tie) && j.chord == 0 {
						t.Errorf("board %d: %s - %s: %v, brute force %v", n, p.a.name, p.b.name, j.Gap.Gap, d)
					}
					if within(x.shape(), vec{}, y.shape()) || within(y.shape(), vec{}, x.shape()) {
						t.Errorf("board %d: %s - %s lie in each other", n, p.a.name, p.b.name)
					}
				}
			}
		}
	}
	if contacts < 8 || clear < 60 {
		t.Errorf("%d contacts and %d clear pairs test too little", contacts, clear)
	}
}
