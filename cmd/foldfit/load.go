package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/fold"
	"foldfit/fold/designfile"
	"foldfit/fold/finding"
	"foldfit/mesh"
	"foldfit/mesh/clash"
	"foldfit/mesh/enclosure"
)

// board is a design that was read, divided, and surrounded by its enclosure.
type board struct {
	tree   *fold.Tree
	walls  []clash.Wall
	notes  []string
	inputs []input // every file that was read, the design first
	meter  *meter  // tells how far long work is
}

// input is a file that was read.
type input struct {
	path  string // as the user or the design writes it
	file  string // where it lies; "" for stdin
	data  []byte // nil for a mesh, which is let go once it is read
	size  int
	sha   string // of a mesh, in hexadecimal, where the command names hashes
	named bool   // by the design, relative to its folder
}

// load reads a design and everything it names. All that is wrong with any of it comes back as one error.
func load(c console, path string, flags designFlags) (*board, error) {
	in, err := readDesign(c, path)
	if err != nil {
		return nil, err
	}
	return loadInput(c, in, flags)
}

// loadInput reads a design from its bytes, and everything it names from the disk.
func loadInput(c console, in input, flags designFlags) (*board, error) {
	b := &board{inputs: []input{in}, meter: c.meter}
	defer b.meter.end()
	options := designfile.Options{AllowOutside: flags.allowOutside, Set: flags.set}
	design, notes, problems := designfile.Parse(in.path, in.data, options)
	b.notes = notes
	more, err := b.applyLimits(design, flags)
	if err != nil {
		return nil, err
	}
	problems = append(problems, more...)
	if design != nil && !design.Incomplete {
		tree, more := fold.Divide(design)
		b.tree = tree
		problems = append(problems, more...)
		problems = append(problems, b.badPostures()...)
		problems = append(problems, b.badSteps(len(problems) == 0)...)
	}
	if design != nil {
		problems = append(problems, b.readWalls(design, flags)...)
	}
	if len(problems) > 0 {
		return nil, &unusable{in.path, b.inputs, finding.SortProblems(problems)}
	}
	if b.tree == nil {
		return nil, &defect{fmt.Errorf("a design without a problem could not be divided")}
	}
	b.notes = append(b.notes, b.tree.Notes...)
	if note := limitsNote(design); note != "" {
		b.notes = append(b.notes, note)
	}
	return b, nil
}

// badPostures returns the postures that ask too much of a hinge.
func (b *board) badPostures() []finding.Problem {
	if b.tree == nil || !b.tree.Foldable {
		return nil
	}
	var problems []finding.Problem
	for _, p := range b.tree.Design.Postures {
		angles, err := b.tree.PostureAngles(p.Name)
		if err == nil {
			_, err = b.tree.Place(angles)
		}
		if err != nil {
			problems = append(problems, finding.Problem{Place: p.Place, What: fmt.Sprintf("posture %s: %v", p.Name, err),
				Hint: "a bend area keeps the width of its hinge's own angle; lower the posture's angle, or give the hinge a larger one or a larger radius"})
		}
	}
	return problems
}

// badSteps returns the steps of the sequence that ask too much of a hinge; those of a design with other problems are told later.
func (b *board) badSteps(sound bool) []finding.Problem {
	if b.tree == nil || !b.tree.Foldable || !sound {
		return nil
	}
	_, problems := b.tree.Programs()
	return problems
}

// readWalls reads the enclosure's pieces into the housing's frame.
func (b *board) readWalls(d *fold.Design, flags designFlags) []finding.Problem {
	var problems []finding.Problem
	for i := range d.Enclosure {
		p := &d.Enclosure[i]
		m, closed, err := b.readPiece(p, flags)
		if err != nil {
			problems = append(problems, finding.Problem{Place: p.MeshPlace, What: fmt.Sprintf("enclosure %s: %v", p.Name, err)})
			continue
		}
		move(&m, fold.RigidMotion(p.Turn, p.Move))
		b.walls = append(b.walls, clash.Wall{Piece: p, Mesh: m, Closed: closed})
	}
	return problems
}

// move moves a mesh by a rigid motion; one without normals in place, since two of a big housing are too many.
func move(m *mesh.Mesh, motion mgl64.Mat4) {
	if m.Normals != nil {
		*m = m.Place(motion)
		return
	}
	for i, p := range m.Points {
		m.Points[i] = fold.Apply(motion, p)
	}
}

// readPiece returns a piece's mesh in its own frame, and whether it tells inside from outside.
func (b *board) readPiece(p *fold.Piece, flags designFlags) (mesh.Mesh, bool, error) {
	name := "enclosure:" + p.Name
	if p.Box != nil {
		return enclosure.Box(name, p.Box[0], p.Box[1]), true, nil
	}
	in, err := readBeside(b.folder(), p.Mesh, flags.allowOutside, mostMesh)
	if err != nil {
		return mesh.Mesh{}, false, err
	}
	if flags.hashed {
		in.sha = in.hash()
	}
	if in.size >= bigMesh {
		collectEarly()
	}
	data := in.data
	in.data = nil
	b.meter.stage("reading " + p.Mesh)
	m, health, err := enclosure.Read(name, p.Mesh, data, meshUnit(p.Units))
	if err != nil {
		return mesh.Mesh{}, false, fmt.Errorf("%s: %w", p.Mesh, err)
	}
	b.inputs = append(b.inputs, in)
	m.Chord = p.Chord
	for _, note := range health.Notes {
		b.notes = append(b.notes, p.Mesh+" "+note)
	}
	b.notes = append(b.notes, p.Mesh+": "+health.Line())
	return m, health.Closed, nil
}

// bigMesh is the size of a mesh file, in bytes, from which on memory is worth more than the time to tidy it; packed ones are
// much larger inside.
const bigMesh = 1 << 18

// collectEarly lets the runtime collect garbage when a quarter of what is in use has gathered, not as much again: big meshes are
// long lists of numbers, which take no time to look through. What the variable GOGC asks for stays.
func collectEarly() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(25)
	}
}

// folder returns where the design lies: the folder that its mesh paths start from.
func (b *board) folder() string {
	if b.inputs[0].file == "" {
		return "."
	}
	return filepath.Dir(b.inputs[0].file)
}

// meshUnit returns how many mm one unit of a mesh file is, 0 where the design names none.
func meshUnit(word string) float64 {
	switch word {
	case "":
		return 0
	case "cm":
		return 10
	case "m":
		return 1000
	}
	return fold.Units(word).Length()
}
