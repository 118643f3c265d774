package flat

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// stripAt returns the strip of half width half about the line through at in the direction of angle a (radians).
func stripAt(at Pt, a, half float64) Strip {
	s, c := math.Sincos(a)
	return Strip{at, Pt{c, s}, half}
}

// band returns the strip as a long rectangle.
func (s Strip) band() Region {
	c := func(along, across float64) Pt { return s.At.Add(s.U.Mul(along)).Add(s.U.Left().Mul(across)) }
	p := [4]Pt{c(-900, -s.Half), c(900, -s.Half), c(900, s.Half), c(-900, s.Half)}
	return Region{{Line(p[0], p[1]), Line(p[1], p[2]), Line(p[2], p[3]), Line(p[3], p[0])}}
}

// cutAll cuts a board by strips, checks the result, and returns taken pieces and rests. Of pieces that overlap the first is
// taken. Slack is what areas may be off (mm2).
func cutAll(t *testing.T, board Region, strips []Strip, slack float64) (taken []Region, rests []Rest) {
	t.Helper()
	c := NewCutter(board, strips)
	var picked []StripPiece
	for i, s := range strips {
		ps, err := c.Pieces(i)
		if err != nil {
			t.Fatalf("strip %d: %v\n%#v\n%s", i, err, strips, dump(board))
		}
		sum := 0.0
		for _, p := range ps {
			sum += p.Region.Area()
			free := true
			for _, q := range picked {
				free = free && len(Intersect(p.Region, q.Region)) == 0
			}
			if free {
				picked = append(picked, p)
			}
		}
		close(t, "area in the strip", sum, areaOf(Intersect(board, s.band())), 1e-9*board.Area()+slack)
	}
	c.Take(picked)
	rests, err := c.Rests()
	if err != nil {
		t.Fatal(err)
	}
	var all []Region
	for i := range picked {
		taken = append(taken, c.Taken(i))
		close(t, "area without needless points", taken[i].Area(), picked[i].Region.Area(), 1e-12*board.Area()+slack)
	}
	all = append(all, taken...)
	for _, r := range rests {
		if len(r.Region) > 0 {
			all = append(all, r.Region)
		}
	}
	close(t, "pieces and rests", areaOf(all), board.Area(), 1e-9*board.Area()+slack)
	checkPieces(t, "pieces and rests", all, false)
	checkJoints(t, board, strips, picked, taken, rests)
	return taken, rests
}

// checkJoints demands that every joint is an edge of its piece and, the other way round, of its rest, bit for bit, that it
// lies on the border line that it names, and that each edge of a piece that is not the board's has one joint.
func checkJoints(t *testing.T, board Region, strips []Strip, picked []StripPiece, taken []Region, rests []Rest) {
	t.Helper()
	has := func(r Region, p, q Pt) bool {
		for _, e := range r.Edges() {
			if e.P == p && e.Q == q && !e.IsArc() {
				return true
			}
		}
		return false
	}
	joints := make([]int, len(taken))
	for _, r := range rests {
		for _, j := range r.Joints {
			s := strips[picked[j.Piece].Strip]
			joints[j.Piece]++
			for _, p := range [2]Pt{j.P, j.Q} {
				if d := s.Across(p) - s.offset(j.Side); math.Abs(d) > 2*Snap {
					t.Errorf("joint of piece %d is %g off its line", j.Piece, d)
				}
			}
			if !has(taken[j.Piece], j.Q, j.P) && !has(taken[j.Piece], j.P, j.Q) {
				t.Errorf("piece %d has no edge %v %v", j.Piece, j.P, j.Q)
			}
			if len(r.Region) > 0 && !has(r.Region, j.P, j.Q) {
				t.Errorf("rest has no edge %v %v", j.P, j.Q)
			}
		}
	}
	for i, p := range picked {
		n := 0
		for _, l := range p.links {
			for _, e := range l {
				n += count(e.tag < 0)
			}
		}
		if n != joints[i] {
			t.Errorf("piece %d has %d joints of its own, %d with rests", i, n, joints[i])
		}
	}
}

// zeroRests returns how many rests have no area.
func countZero(rests []Rest) int {
	n := 0
	for _, r := range rests {
		n += count(len(r.Region) == 0)
	}
	return n
}

func TestCutSimpleBoards(t *testing.T) {
	plate := Region{box(0, 0, 40, 10)}
	up := math.Pi / 2
	step := Region{polygon(0, 0, 20, 0, 20, -5, 40, -5, 40, 10, 0, 10)}
	dent := Region{mustBuildLoop(corner(0, 0, 0), corner(17, 0, 0), arcTo(23, 0, 20, 3), corner(40, 0, 0), corner(40, 10, 0), corner(0, 10, 0))}
	cap := Region{mustBuildLoop(corner(0, 0, 0), corner(30, 0, 0), arcTo(30, 10, 35, 5), corner(0, 10, 0))}
	hole := func(x, y, d float64) Region { return Region{box(0, 0, 40, 10), disc(x, y, d).Rev()} }
	for _, c := range []struct {
		name                string
		board               Region
		strips              []Strip
		pieces, rests, zero int
		areas               []float64 // of the pieces
	}{
		{"across", plate, []Strip{stripAt(Pt{20, 3}, up, 1)}, 1, 2, 0, []float64{20}},
		{"written the other way", plate, []Strip{stripAt(Pt{20, 3}, -up, 1)}, 1, 2, 0, []float64{20}},
		{"oblique", plate, []Strip{stripAt(Pt{20, 5}, math.Pi/4, 1)}, 1, 2, 0, []float64{20 * math.Sqrt2}},
		{"lengthwise", plate, []Strip{stripAt(Pt{20, 5}, 0, 1)}, 1, 2, 0, []float64{80}},
		{"off the board", plate, []Strip{stripAt(Pt{50, 5}, up, 1)}, 0, 1, 0, nil},
		{"all of the board", plate, []Strip{stripAt(Pt{20, 5}, up, 100)}, 1, 0, 0, []float64{400}},
		{"a border line on an edge, board inside", plate, []Strip{stripAt(Pt{1, 5}, up, 1)}, 1, 1, 0, []float64{20}},
		{"a border line on an edge, board outside", plate, []Strip{stripAt(Pt{-1, 5}, up, 1)}, 0, 1, 0, nil},
		{"both border lines on edges", plate, []Strip{stripAt(Pt{20, 5}, 0, 5)}, 1, 0, 0, []float64{400}},
		{"along a step's edge, board beyond it inside", step, []Strip{stripAt(Pt{21, 0}, up, 1)}, 1, 2, 0, []float64{30}},
		{"along a step's edge, board beyond it outside", step, []Strip{stripAt(Pt{19, 0}, up, 1)}, 1, 2, 0, []float64{20}},
		{"through corners", Region{polygon(0, 0, 10, -5, 20, 0, 30, -5, 40, 0, 40, 10, 0, 10)}, []Strip{stripAt(Pt{15, 0}, up, 5)}, 1, 2, 0, []float64{125}},
		{"two strips with a common border line", plate, []Strip{stripAt(Pt{15, 0}, up, 2), stripAt(Pt{19, 0}, up, 2)}, 2, 3, 1, []float64{40, 40}},
		{"the same, written against each other", plate, []Strip{stripAt(Pt{15, 0}, up, 2), stripAt(Pt{19, 0}, -up, 2)}, 2, 3, 1, []float64{40, 40}},
		{"three with common border lines", plate, []Strip{stripAt(Pt{15, 0}, up, 2), stripAt(Pt{19, 0}, up, 2), stripAt(Pt{22, 0}, -up, 1)}, 3, 4, 2, []float64{40, 40, 20}},
		{"common border line through a hole", hole(17, 5, 2), []Strip{stripAt(Pt{15, 0}, up, 2), stripAt(Pt{19, 0}, up, 2)}, 2, 4, 2, []float64{40 - math.Pi/2, 40 - math.Pi/2}},
		{"common border line touches a hole", hole(18, 5, 2), []Strip{stripAt(Pt{15, 0}, up, 2), stripAt(Pt{19, 0}, up, 2)}, 2, 3, 1, []float64{40, 40 - math.Pi}},
		{"nearly common border lines, a hole touches one", hole(16-5e-7, 5, 2), []Strip{stripAt(Pt{15, 0}, up, 2), stripAt(Pt{19 + 9e-7, 0}, up, 2)}, 2, 3, 1, []float64{40 - math.Pi, 40}},
		{"hole within", hole(20, 5, 2), []Strip{stripAt(Pt{20, 0}, up, 2)}, 1, 2, 0, []float64{40 - math.Pi}},
		{"hole across the strip", hole(20, 5, 6), []Strip{stripAt(Pt{20, 0}, up, 1)}, 2, 2, 0, nil},
		{"hole touches the border line from inside", hole(21, 5, 2), []Strip{stripAt(Pt{20, 0}, up, 2)}, 1, 2, 0, []float64{40 - math.Pi}},
		{"hole touches the border line from outside", hole(23, 5, 2), []Strip{stripAt(Pt{20, 0}, up, 2)}, 1, 2, 0, []float64{40}},
		{"hole touches both border lines", hole(20, 5, 4), []Strip{stripAt(Pt{20, 0}, up, 2)}, 2, 2, 0, []float64{20 - 2*math.Pi, 20 - 2*math.Pi}},
		{"hole 5e-7 over the border line", hole(21+5e-7, 5, 2), []Strip{stripAt(Pt{20, 0}, up, 2)}, 1, 2, 0, []float64{40 - math.Pi}},
		{"hole 5e-7 short of the border line", hole(21-5e-7, 5, 2), []Strip{stripAt(Pt{20, 0}, up, 2)}, 1, 2, 0, []float64{40 - math.Pi}},
		{"arc touches the line from outside", dent, []Strip{stripAt(Pt{0, 4}, 0, 1)}, 1, 3, 0, []float64{80}},
		{"arc touches the line from inside", dent, []Strip{stripAt(Pt{0, 2}, 0, 1)}, 2, 3, 0, nil},
		{"round end touched", cap, []Strip{stripAt(Pt{34, 5}, up, 1)}, 1, 1, 0, nil},
		{"round end touched from outside", cap, []Strip{stripAt(Pt{36, 5}, up, 1)}, 0, 1, 0, nil},
		{"round end cut 2e-6 deep", cap, []Strip{stripAt(Pt{36 - 2e-6, 5}, up, 1)}, 1, 1, 0, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, m := range []move{{}, {0.3, Pt{5, 7}}, {2, Pt{-3, 80}}, {0, Pt{5e4, -5e4}}, {1.1, Pt{5e4, 5e4}}} {
				strips := make([]Strip, len(c.strips))
				for i, s := range c.strips {
					strips[i] = Strip{m.pt(s.At), s.U.turned(m.Turn), s.Half}
				}
				taken, rests := cutAll(t, m.region(c.board), strips, 2e-5)
				if len(taken) != c.pieces || len(rests) != c.rests || countZero(rests) != c.zero {
					t.Errorf("%+v: %d pieces, %d rests, %d of no area, want %d, %d, %d", m, len(taken), len(rests), countZero(rests), c.pieces, c.rests, c.zero)
					continue
				}
				for i, want := range c.areas {
					close(t, "area", taken[i].Area(), want, 1e-5)
				}
			}
		})
	}
}

func mustBuildLoop(items ...Vertex) Loop {
	l, errs := Build(items)
	if errs != nil {
		panic(errs)
	}
	return l
}

// randomBoard returns an outline with holes, none of which touch.
func randomBoard(r *rand.Rand) Region {
	var board Region
	for board == nil {
		board = sources[r.IntN(len(sources)-3)].make(r)
	}
	for range r.IntN(5) {
		hole := disc(float64(r.IntN(18))/2, float64(r.IntN(18))/2, 0.4+1.2*r.Float64())
		if r.IntN(2) == 0 {
			p := gridPt(r, 9)
			hole = box(p.X+0.2, p.Y+0.25, p.X+0.7, p.Y+0.75)
		}
		free := board[0].Contains(hole[0].P)
		for _, l := range board {
			_, meets := Meet(l, hole)
			free = free && !meets && (l.Area() > 0 || !hole.Contains(l[0].P) && !l.Rev().Contains(hole[0].P))
		}
		if free {
			board = append(board, hole.Rev())
		}
	}
	return board
}

// randomStrips returns strips through corners, along edges, touching arcs, with common border lines, nearly parallel to
// edges, and anywhere.
func randomStrips(r *rand.Rand, board Region) []Strip {
	es := board.Edges()
	var out []Strip
	for range 1 + r.IntN(4) {
		e, f := es[r.IntN(len(es))], es[r.IntN(len(es))]
		half := 0.05 + 1.5*r.Float64()
		s := stripAt(randomPt(r, 9), math.Pi*r.Float64(), half)
		switch r.IntN(6) {
		case 0: // a border line through two corners
			if e.P.Dist(f.P) > 0.1 {
				s.U = f.P.Sub(e.P).Unit()
				s.At = e.P.Add(s.U.Left().Mul(half))
			}
		case 1: // a border line along an edge, or almost
			s.U = e.Tangent(0).turned([]float64{0, 1e-10, -1e-10, 1e-8, 1e-7}[r.IntN(5)])
			s.At = e.P.Add(s.U.Left().Mul(half * float64(1-2*r.IntN(2))))
		case 2: // a border line touches an arc
			if e.IsArc() {
				s.At = e.C.Add(s.U.Left().Mul((e.R + half*float64(1-2*r.IntN(2))) * float64(1-2*r.IntN(2))))
			}
		case 3: // beside the last one
			if len(out) > 0 {
				last := out[len(out)-1]
				gap := []float64{0, 1e-9, 5e-7, 1e-3}[r.IntN(4)]
				s = Strip{last.At.Add(last.U.Left().Mul(last.Half + half + gap)), last.U, half}
			}
		case 4: // on the grid
			s = stripAt(gridPt(r, 9), math.Pi/2*float64(r.IntN(2)), 0.5*float64(1+r.IntN(3)))
		}
		if r.IntN(2) == 0 {
			s.U = s.U.Mul(-1)
		}
		out = append(out, s)
	}
	return out
}

// TestCutRandomBoards begins with those that earlier versions got wrong.
func TestCutRandomBoards(t *testing.T) {
	rounds, pieces := 1500, 0
	if testing.Short() {
		rounds = 200
	}
	for _, seed := range append([]uint64{13172}, upTo(rounds)...) {
		r := rand.New(rand.NewPCG(31, seed))
		board := randomBoard(r)
		strips := randomStrips(r, board)
		if r.IntN(3) == 0 {
			m := move{2 * math.Pi * r.Float64(), Pt{5e4 * r.Float64(), 5e4 * r.Float64()}}
			board = m.region(board)
			for k, s := range strips {
				strips[k] = Strip{m.pt(s.At), s.U.turned(m.Turn), s.Half}
			}
		}
		taken, _ := cutAll(t, board, strips, Snap*lenOf(board))
		pieces += len(taken)
		if t.Failed() {
			t.Fatalf("seed %d: %#v\n%s", seed, strips, dump(board))
		}
	}
	if pieces < rounds {
		t.Errorf("only %d pieces", pieces)
	}
}

// perforated returns a plate of n x n holes.
func perforated(n int) Region {
	r := Region{box(0, 0, 5*float64(n), 5*float64(n))}
	for i := range n {
		for j := range n {
			r = append(r, disc(5*float64(i)+2.5, 5*float64(j)+2.5, 3).Rev())
		}
	}
	return r
}

// wavy returns a plate of about 100 x 50 mm with n vertices: saw teeth along its long sides, the rest straight.
func wavy(n int) Region {
	var items []Vertex
	k := (n - 4) / 2
	for i := range k {
		items = append(items, Vertex{P: Pt{100 * (float64(i) + 0.5) / float64(k), 0.3 * float64(i%2)}})
	}
	items = append(items, pts(100, 0, 100, 50)...)
	for i := range k {
		items = append(items, Vertex{P: Pt{100 * (1 - (float64(i)+0.5)/float64(k)), 50 - 0.2*float64(i%2)}})
	}
	return Region{mustBuildLoop(append(items, pts(0, 50, 0, 0)...)...)}
}

func TestCutDenseBoards(t *testing.T) {
	holes := perforated(20)
	for _, deg := range []float64{17.3, 45, 90} {
		u := deg * math.Pi / 180
		a := stripAt(Pt{50, 50}, u, 3.1)
		b := Strip{a.At.Add(a.U.Left().Mul(20)), a.U, 2.2}
		taken, rests := cutAll(t, holes, []Strip{a, b}, 0)
		if len(taken) < 2 || len(rests) < 3 {
			t.Errorf("%g degrees: %d pieces, %d rests", deg, len(taken), len(rests))
		}
	}
	taken, rests := cutAll(t, wavy(10000), []Strip{stripAt(Pt{30, 25}, 1.4, 2), stripAt(Pt{60, 25}, 1.6, 2)}, 0)
	if len(taken) < 2 || len(rests) < 3 {
		t.Errorf("10000 vertices: %d pieces, %d rests", len(taken), len(rests))
	}
	taken, rests = cutAll(t, wavy(1000), []Strip{stripAt(Pt{10, 0.15}, 0, 0.1)}, 0) // along the saw teeth
	if len(taken) < 200 || len(rests) < 200 {
		t.Errorf("along the teeth: %d pieces, %d rests", len(taken), len(rests))
	}
}

func TestCutFailsAloud(t *testing.T) {
	// an open border is no board: the cutter must say so, not leave pieces out
	open := Region{box(0, 0, 40, 10)[:3]}
	c := NewCutter(open, []Strip{stripAt(Pt{20, 5}, math.Pi/2, 1), stripAt(Pt{0, 5}, math.Pi/2, 1)})
	if _, err := c.Pieces(1); err == nil || !strings.Contains(err.Error(), "near (0, 0)") {
		t.Errorf("open outline: %v", err)
	}
	if _, err := c.Rests(); err == nil {
		t.Error("rests of an open outline")
	}
	c = NewCutter(Region{box(0, 0, 40, 10)}, []Strip{stripAt(Pt{20, 5}, math.Pi/2, 1), stripAt(Pt{21, 5}, math.Pi/2, 1)})
	a, _ := c.Pieces(0)
	b, _ := c.Pieces(1)
	c.Take(append(a, b...))
	if _, err := c.Rests(); err == nil {
		t.Error("overlapping pieces taken, and no error")
	}
}
