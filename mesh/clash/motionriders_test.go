package clash

import (
	"context"
	"math"
	"strings"
	"testing"
)

// A cell rides on the free arm of a strip, on its top side, and is swung against a wall of the housing that the arm itself does
// not reach: its far edge goes round the bend, and meets the wall's side at x where cos and sin of the angle say.
func TestPieceThatRidesIntoAnother(t *testing.T) {
	line, _ := boxPiece("cell", 40, 0, 0.1, 50, 10, 4)
	line = strings.Replace(line, "]]}", "]], on: arm}", 1)
	wallLine, _ := boxPiece("stop", 20, -5, 12, 24, 15, 60)
	src := strings.Replace(strip(90, 1.5, "enclosure:\n"+line+wallLine), "flex: film", "flex: film\nsections: {arm: {stackup: film, area: {rect: [36, 0, 60, 10]}}}", 1)
	p := programs(t, src+"sequence: [{bend: [neck], to: {neck: 150}}, {bend: [neck]}]\n")
	// the near tangent line is at 30 - w/2; beyond the bend a flat point (s, z) over the neutral surface turns about its axis
	const rho = 1.6
	w := rho * math.Pi / 2
	reaches := func(deg float64) (x, z float64) { // the cell's near top edge, at x = 40 in the flat
		a := deg * math.Pi / 180
		r, along, up := w/a, 40-(30+w/2), 4.0
		x = 30 - w/2 + r*math.Sin(a) + along*math.Cos(a) - up*math.Sin(a)
		z = r*(1-math.Cos(a)) + along*math.Sin(a) + up*math.Cos(a)
		return x, z
	}
	far := func(deg float64) (x, z float64) { // the far one, at 50
		x, z = reaches(deg)
		a := deg * math.Pi / 180
		return x + 10*math.Cos(a), z + 10*math.Sin(a)
	}
	meets := 0.0
	for deg := 1.0; meets == 0 && deg <= 150; deg += 0.001 {
		if x, z := far(deg); x <= 24 && z >= 12 {
			meets = deg
		}
	}
	m := Sweep(context.Background(), p, wallsOf(&p[0]), 0.01, nil)
	found := ""
	for _, f := range m.Findings {
		if strings.Join(f.On, " ") == "enclosure:cell enclosure:stop" {
			found = f.Message
		}
	}
	if meets == 0 || !strings.Contains(found, "in step 1 of 2 from "+percent(math.Round(1000*meets/150)/1000)) {
		t.Errorf("meets at %v of 150 degrees (%v): %q; all: %s", meets, meets/150, found, told(m))
	}
}

// A piece that rides on the board and one that it moves against are not compared where a mesh is open; that is told.
func TestOpenMeshesOfRiders(t *testing.T) {
	line, _ := boxPiece("cell", 40, 0, 0.1, 50, 10, 4)
	line = strings.Replace(line, "]]}", "]], on: arm}", 1)
	stop, _ := boxPiece("stop", 20, -5, 12, 24, 15, 60)
	src := strings.Replace(strip(90, 1.5, "enclosure:\n"+line+stop), "flex: film", "flex: film\nsections: {arm: {stackup: film, area: {rect: [36, 0, 60, 10]}}}", 1)
	for open, name := range []string{"enclosure:cell", "enclosure:stop"} {
		p := programs(t, src+"sequence: [{bend: [neck]}]\n")
		walls := wallsOf(&p[0])
		walls[open].Closed = false
		m := Sweep(context.Background(), p, walls, 0.01, nil)
		if len(m.Unchecked) != 1 || len(m.Unchecked[0].On) != 1 || m.Unchecked[0].On[0] != name || m.Covered || m.Stopped {
			t.Errorf("%s open: %+v, covered %v, stopped %v", name, m.Unchecked, m.Covered, m.Stopped)
		}
	}
}
