package former

import (
	"fmt"
	"math"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/bending"
	"foldfit/fold/flat"
	"foldfit/fold/stackup"
)

// Sizes of a block in mm. Common practice of printing with a 0.4 mm nozzle, no source.
const (
	Wall        = 1.2  // least thickness of what is printed
	LeastRadius = 0.4  // least radius of a nose
	Fit         = 0.1  // how much wider than the flex a slot is
	clear       = 0.3  // between a block and what is not to touch it
	leastFlank  = 0.8  // least straight face on either side of a nose
	mostFlank   = 8.0  // the straight faces are no longer than that
	depth       = 10.0 // from the flanks into the body, where the angle leaves room
	margin      = 2.0  // by which a block is longer than the flex is wide
	finger      = 3.0  // thickness of what holds the near flat down
	base        = 4.0  // thickness of the base plate
	groove      = 0.4  // depth of the writing
	mostStem    = 60.0 // how far beyond the flex's edge a base may lie
	reach       = 40.0 // how far from the bend area a base may reach
)

// Options say what the blocks are for. The zero value: blocks for the finished angles.
type Options struct {
	Springback bool              // form further what is formed, so that it springs back to its angle
	Angles     []fold.HingeAngle // angles to form, degrees without sign; they go before all else
}

// Spec holds the figures of one block. Lengths mm, angles in degrees without sign.
type Spec struct {
	Name      string
	Hinge     int
	Bends     []int           // what is formed on it: bends of one hinge that are alike, the longest first
	Finished  float64         // the hinge's own angle
	Angle     float64         // the angle to form
	Kept      *bending.Spring // how much of it stays; nil where no springback is allowed for
	Note      string          // why not, where one might expect it
	Radius    float64         // of the nose: the inside radius at Angle that keeps the bend area's width
	Thickness float64         // of the flex
	Width     float64         // of the flex along the hinge, where it lies against the block
	Near, Far float64         // straight faces beside the nose
	Slot      float64         // width of the slot for the near flat; 0 = none
	Style     Style           // what it stands on
	Stem      float64         // how far it reaches beyond the flex's edge, to the bed or to the base plate
	Inside    float64         // how far anything on the board stands out from the flex's inside face
	Mirrored  bool            // it begins beyond the higher end of the hinge, so that x runs from far to near
	zone      [2]float64      // how far the faces may reach, near and far

	// BlockFromFlat is the rigid motion of the near flat at Bends[0]: flat coordinates to the block's.
	BlockFromFlat mgl64.Mat4
}

// Style says where a block carries its writing and is held.
type Style int

// The styles, the best one first.
const (
	Foot Style = iota // a foot between the flats, below all that stands out from the board
	Base              // a base plate beyond the board's edge, where the flats leave no room between them
	Bar               // neither
)

// Refused is a hinge, or some bends of it, without a block.
type Refused struct {
	Name string
	Why  string // with the way out
}

// Specs returns the blocks of a board that can be folded, by hinge, and the bends that get none. A hinge across several arms
// gets one block, as long as the widest arm asks for, unless their radii, thicknesses or directions differ.
// Blocks are for a board whose other hinges are still flat.
func Specs(t *fold.Tree, o Options) ([]Spec, []Refused) {
	var specs []Spec
	var refused []Refused
	for h := range t.Hinges {
		for _, group := range alike(t, t.Hinges[h].Bends) {
			s := Spec{Hinge: h, Bends: group, Name: t.Design.Hinges[h].Name}
			if len(group) < len(t.Hinges[h].Bends) {
				s.Name = t.Bends[group[0]].Name
			}
			if why := s.fill(t, o); why != "" {
				refused = append(refused, Refused{s.Name, why})
				continue
			}
			specs = append(specs, s)
		}
	}
	return specs, refused
}

// alike parts the bends of a hinge into groups that one block serves, each with its longest bend first.
func alike(t *fold.Tree, bends []int) [][]int {
	var out [][]int
	same := func(a, b *fold.Bend) bool {
		return math.Abs(a.InsideRadius-b.InsideRadius) < 1e-6 && math.Abs(a.Thickness()-b.Thickness()) < 1e-6 && a.Dir.Dist(b.Dir) < 1e-9
	}
next:
	for _, i := range bends {
		for g, group := range out {
			if first := group[0]; same(&t.Bends[first], &t.Bends[i]) {
				out[g] = append(group, i)
				if length(&t.Bends[i]) > length(&t.Bends[first]) {
					out[g][0], out[g][len(out[g])-1] = i, first
				}
				continue next
			}
		}
		out = append(out, []int{i})
	}
	return out
}

// length returns the extent of a bend along its hinge.
func length(b *fold.Bend) float64 {
	low, high := span(b.Region, b.Dir.Left())
	return high - low
}

// span returns the extent of a region along a direction, its arcs within 0.001 mm.
func span(r flat.Region, u flat.Pt) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, l := range r {
		for _, p := range l.Points(0.001) {
			low, high = min(low, p.Dot(u)), max(high, p.Dot(u))
		}
	}
	return low, high
}

// edges returns the extent along a hinge of the flex that lies against a block: of bend i, and as far as the faces may reach of the
// flats beside it, whose edges may run at an angle.
func (s *Spec) edges(t *fold.Tree, i int, along flat.Pt) (low, high float64) {
	b, slant := &t.Bends[i], max(s.zone[0], s.zone[1])
	from, to := span(b.Region, along)
	low, high = from, to
	for k := range t.Bodies {
		body := &t.Bodies[k]
		if least, most := stations(body, b, along, from, to); body.Kind != fold.KindFlex || most < -flat.Snap || least > b.Width+flat.Snap {
			continue // another piece of flex
		}
		sides(body, b, along, func(p, q flat.Pt) {
			if p, q, ok := clip(turned(p), turned(q), -s.zone[0], b.Width+s.zone[1]); ok {
				if p, q, ok := clip(turned(p), turned(q), from-slant, to+slant); ok {
					low, high = min(low, p.Y, q.Y), max(high, p.Y, q.Y)
				}
			}
		})
	}
	return low, high
}

// fill works out the figures, or says why there is no block.
func (s *Spec) fill(t *fold.Tree, o Options) (why string) {
	h, b := &t.Design.Hinges[s.Hinge], &t.Bends[s.Bends[0]]
	s.Finished, s.Thickness = math.Abs(h.Angle), b.Thickness()
	if why := s.formed(t, o); why != "" {
		return why
	}
	s.Radius = b.RadiusAt(math.Copysign(s.Angle, h.Angle))
	if why := s.thin(); why != "" {
		return why
	}
	return s.place(t)
}

// formed finds the angle to form: the one asked for, else the finished angle by the middle of the share that stays.
func (s *Spec) formed(t *fold.Tree, o Options) (why string) {
	h := &t.Design.Hinges[s.Hinge]
	s.Angle = s.Finished
	asked := false
	for _, a := range o.Angles {
		if a.Hinge == h.Name {
			s.Angle, asked = a.Angle, true
		}
	}
	most := t.Bends[s.Bends[0]].MostAngle(h.Angle)
	switch {
	case asked:
	case h.Formed == "free":
		return "nobody forms it (formed: free): its flex takes its own shape"
	case o.Springback && h.Formed != "":
		s.allow(t)
	}
	switch {
	case s.Angle > mostAngle && !asked:
		return fmt.Sprintf("it bends by %.1f degrees, and no solid nose reaches beyond half a turn: form it by hand round a rod of %.2f mm diameter",
			s.Finished, 2*t.Bends[s.Bends[0]].InsideRadius)
	case s.Angle > most:
		return fmt.Sprintf("its bend area of %.3f mm is too short to be formed by %.1f degrees: at most %.1f", t.Bends[s.Bends[0]].Width, s.Angle, most)
	}
	return ""
}

// mostAngle is the largest angle that a solid nose forms, in degrees: beyond it the flats would cross.
const mostAngle = 180 + 1e-9

// allow sets the angle that springs back to the finished one, in the middle of what is known, where a block reaches it.
func (s *Spec) allow(t *fold.Tree) {
	spring, known := bending.Of(t, s.Bends[0]).Cylinder(t.Design.Hinges[s.Hinge].Angle).Springback()
	if !known {
		s.Note = "no springback allowed for: it needs layers with copper of a known yield stress"
		return
	}
	s.Kept = &spring
	angle, stays := stackup.FormingAngle(s.Finished, (spring.Low+spring.High)/2)
	keeps := fmt.Sprintf("no springback allowed for: let go it keeps %.0f to %.0f %% of its angle, and ", 100*spring.Low, 100*spring.High)
	switch {
	case !stays:
		s.Note = keeps + "no forming makes up for that; let the hardware hold it"
	case angle > mostAngle:
		s.Note = keeps + fmt.Sprintf("%.0f degrees, by the middle of that, are more than half a turn; let the hardware hold it", angle)
	default:
		s.Angle = angle
	}
}

// thin says why a nose cannot be printed: the nose's radius, or its thickness half a wall behind the axis.
func (s *Spec) thin() string {
	half := (180 - s.Angle) / 2 * (math.Pi / 180)
	thick := 2 * (s.Radius/math.Cos(half) + Wall/2*math.Tan(half))
	switch {
	case s.Radius < LeastRadius:
		return fmt.Sprintf("a nose of radius %.2f mm is not printable (least %.2f): form it over a rod or a sheet edge of that radius", s.Radius, LeastRadius)
	case thick < Wall:
		return fmt.Sprintf("a nose %.2f mm thick is not printable (least %.2f): form it over a sheet of %.2f mm with a rounded edge", thick, Wall, 2*s.Radius)
	}
	return ""
}
