package clash

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foldfit/fold"
	"foldfit/fold/designfile"
	"foldfit/mesh"
	"foldfit/mesh/enclosure"
)

// example reads one of the example designs, with a sequence of its own for the motion, and its housing.
func example(t testing.TB, file, more string) ([]fold.Program, []Wall) {
	t.Helper()
	dir := filepath.Join("..", "..", "examples", filepath.Dir(file))
	src, err := os.ReadFile(filepath.Join(dir, filepath.Base(file)))
	if err != nil {
		t.Fatal(err)
	}
	d, _, problems := designfile.Parse(file, append(src, more...), designfile.Options{})
	if len(problems) > 0 {
		t.Fatalf("%v", problems)
	}
	tree, problems := fold.Divide(d)
	if len(problems) > 0 {
		t.Fatalf("%v", problems)
	}
	programs, problems := tree.Programs()
	if len(problems) > 0 {
		t.Fatalf("%v", problems)
	}
	var walls []Wall
	for i := range d.Enclosure {
		p := &d.Enclosure[i]
		m := mesh.Mesh{}
		if p.Box != nil {
			m = enclosure.Box(p.Name, p.Box[0], p.Box[1])
		} else {
			data, err := os.ReadFile(filepath.Join(dir, p.Mesh))
			if err != nil {
				t.Fatal(err)
			}
			if m, _, err = enclosure.Read(p.Name, p.Mesh, data, 1); err != nil {
				t.Fatal(err)
			}
		}
		m.Chord = p.Chord
		walls = append(walls, Wall{Piece: p, Mesh: m.Place(fold.RigidMotion(p.Turn, p.Move)), Closed: true})
	}
	return programs, walls
}

// The example designs, as they are and with a sequence where they have an enclosure.
var examples = []struct{ name, file, more string }{
	{"lamp", "lamp/lamp.yaml", ""},
	{"lamp_in_order", "lamp/lamp.yaml", "sequence:\n  - {bend: [fold4]}\n  - {bend: [fold3]}\n  - {bend: [fold2]}\n  - {bend: [fold1]}\n" +
		"  - {bend: [rose-root, lily-root, iris-root, aster-root, daisy-root]}\n  - {move: board, into: stand, path: [{move: [0, 0, 60]}, {move: [0, 0, 0]}]}\n" +
		"  - {move: shade, path: [{move: [0, 0, 80]}, {move: [0, 0, 0]}]}\n"},
	{"loop", "loop/loop.yaml", ""},
	{"pocket-logger", "pocket-logger/pocket-logger.yaml", ""},
	{"pocket-logger_in_order", "pocket-logger/pocket-logger.yaml", "sequence:\n  - {bend: [neck]}\n  - {move: board, into: tray, path: [{move: [0, 0, 30]}, {move: [0, 0, 0]}]}\n"},
	{"draft", "pocket-logger/draft.yaml", ""},
	{"tail", "tail/tail.yaml", ""},
}

func BenchmarkSweepExamples(b *testing.B) {
	for _, e := range examples {
		b.Run(e.name, func(b *testing.B) {
			programs, walls := example(b, e.file, e.more)
			for b.Loop() {
				Sweep(context.Background(), programs, Prepare(walls), 0.01, nil)
			}
		})
	}
}

// The example designs are followed all the way; as they are, without a sequence of ours, nothing is found on it.
func TestSweepExamples(t *testing.T) {
	for _, e := range examples {
		programs, walls := example(t, e.file, e.more)
		m := Sweep(context.Background(), programs, walls, 0.01, nil)
		if m.Stopped || m.Covered != programs[0].Written || e.more == "" && len(m.Findings) > 0 || len(m.Steps) == 0 {
			t.Errorf("%s: covered %v, %s, %d gaps", e.name, m.Covered, told(m), len(m.Steps))
		}
		for _, g := range m.Steps {
			if g.Gap < g.Low || g.Gap-g.Low > Resolution+0.1 { // the chords of a housing and of bends
				t.Errorf("%s: %+v", e.name, g)
			}
		}
	}
}

// Good boards whose bodies touch, or keep one distance, all the way: bends with a corner in common, drawn exactly and to rounded
// numbers, and arms of a ring. Nothing is found on their way.
func TestSweepGoodBoards(t *testing.T) {
	for _, name := range []string{"hub-5", "hub-7-rounded", "parallelogram"} {
		programs, walls := example(t, filepath.Join("..", "testdata", "corpus", "good", name+".yaml"), "")
		if m := Sweep(context.Background(), programs, walls, 0.01, nil); !m.Covered || len(m.Findings) > 0 {
			t.Errorf("%s: covered %v, %s", name, m.Covered, told(m))
		}
	}
}

// crowded is a board of two plates with hundreds of parts that is bent and put into a finely meshed tray.
func crowded(t testing.TB, parts, cells int) ([]fold.Program, []Wall) {
	src := "outline: [[0, 0], [160, 0], [160, 60], [0, 60]]\nstackups: {film: {thickness: 0.2}, plate: {thickness: 1, rigid: true}}\nflex: film\n" +
		"sections: {main: {stackup: plate, area: {rect: [0, 0, 75, 60]}}, wing: {stackup: plate, area: {rect: [95, 0, 160, 60]}}}\n" +
		"clearance: {board: 0.2, components: 0.2, enclosure: 0.3}\nhinges: {neck: {line: [[85, -1], [85, 61]], angle: 180, radius: 5}}\ncomponents:\n"
	for i := range parts {
		x, y := 3+4.0*float64(i%16), 3+5.5*float64(i/2/16)
		if i%2 == 1 {
			x += 97
		}
		src += fmt.Sprintf("  U%d: {side: %s, at: [%v, %v], size: [2, 3, %v]}\n", i, []string{"top", "bottom"}[i/2%2], x, y, 0.5+0.1*float64(i%7))
	}
	src += "enclosure: {tray: {box: [[0, 0, 0], [1, 1, 1]]}}\nsequence:\n  - {bend: [neck]}\n" +
		"  - {move: board, into: tray, path: [{move: [20, 0, 60], turn: [0, 20, 0]}, {move: [0, 0, 10]}, {move: [0, 0, 0]}]}\n"
	p := programs(t, src)
	floor := sheet(cells, 120, 80, -4, 2, 0).shifted(-10, -10, 0)
	w := wall("tray", 0, 0, 0, 1, 1, 1)
	w.Mesh.Points, w.Mesh.Triangles, w.Mesh.Normals = floor.points, floor.tris, nil
	w.Piece = &p[0].Tree.Design.Enclosure[0]
	return p, []Wall{w}
}

func BenchmarkSweepCrowded(b *testing.B) {
	for _, cells := range []int{40, 160} {
		p, walls := crowded(b, 300, cells)
		b.Run(fmt.Sprintf("300_parts_%d_triangles", len(walls[0].Mesh.Triangles)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if m := Sweep(context.Background(), p, Prepare(walls), 0.01, nil); !m.Covered {
					b.Fatal("not covered")
				}
			}
		})
	}
}

// A plate that slides and turns on a floor, touching it all the way, and a strip of many plates that folds to and fro.
func BenchmarkSweepSliding(b *testing.B) {
	line, floor := boxPiece("floor", -300, -200, -5, 300, 200, -0.5)
	for _, way := range []string{"{move: [100, 0, 0]}", "{move: [100, 0, 0], turn: [0, 0, 90]}"} {
		p := programs(b, plank(0, line, "  - {move: board, into: floor, path: ["+way+", {move: [0, 0, 0]}]}\n"))
		b.Run(map[bool]string{false: "straight", true: "turning"}[strings.Contains(way, "turn")], func(b *testing.B) {
			for b.Loop() {
				Sweep(context.Background(), p, []Wall{floor}, 0.002, nil)
			}
		})
	}
}

func BenchmarkSweepAccordion(b *testing.B) {
	const plates = 16
	src := fmt.Sprintf("outline: [[0, 0], [%[1]v, 0], [%[1]v, 10], [0, 10]]\nstackups: {film: {thickness: 0.2}}\nflex: film\nbase: {at: [1, 1]}\nhinges:\n", 12*plates)
	for i := 1; i < plates; i++ {
		src += fmt.Sprintf("  h%d: {line: [[%v, -1], [%[2]v, 11]], angle: %v, radius: 0.6}\n", i, 12*i, 178-356*(i%2))
	}
	p := programs(b, src)
	for b.Loop() {
		Sweep(context.Background(), p, nil, 0.002, nil)
	}
}
