package main

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"foldfit/export/draw"
	"foldfit/export/stl"
	"foldfit/export/threemf"
	"foldfit/fold"
	"foldfit/fold/flat"
	"foldfit/fold/rule"
	"foldfit/mesh"
	"foldfit/mesh/former"
)

// formerOptions are the flags of former.
type formerOptions struct {
	designFlags
	out    string
	chord  *number
	asIs   bool
	angles []string
	format choice
}

func newFormer(c console) *cobra.Command {
	o := &formerOptions{format: choice{"", []string{"stl", "3mf"}}}
	cmd := &cobra.Command{
		Use: "former DESIGN -o FILE", Short: "Bending blocks to print, one for each hinge (.stl, .3mf)",
		Long: `former writes a block for each hinge to bend the flex over: a nose of the inside radius, a straight face beside it for the near flat,
and another one as the stop at the angle to form. The blocks lie on one plate as they are to be printed: standing on z = 0,
every wall upright, no support. In a .3mf each is an object of its own; mm in both formats.

Slide the flex into the slot from the open end until its edge touches the bottom, the near tangent line of the bend at the finger's
front edge, and fold the far flat round the nose onto the stop. The slot is 0.1 mm wider than the flex. A block stands on a foot
between the flats, or where they leave no room on a base plate beyond the board's edge, or it is a bar. Faces end 0.3 mm before what
is thicker than the flex, and blocks are made for a board whose other hinges are still flat. Name, angle and radius are engraved.

A hinge that is formed (formed: bench or fabricator) and whose copper is known gets a block for a larger angle and a smaller radius, in the
middle of what springback is expected; a first try, since that is a wide range. --no-springback makes blocks for the finished
angles; --angle neck=120 sets the angle to form after a try. No block forms more than half a turn.

Exit status: 0 written, 1 no hinge can be given a block and nothing is written, 2 the input or the call could not be used.`,
		Example: `  foldfit former board.yaml -o former.stl
  foldfit former board.yaml -o former.3mf --no-springback
  foldfit former board.yaml -o former.3mf --angle neck=120 --angle tail=60`,
		Args: oneDesign,
	}
	o.add(cmd, true)
	o.chord = chordFlag(cmd)
	f := cmd.Flags()
	f.StringVarP(&o.out, "output", "o", "", "`FILE` to write; - for stdout, with --format")
	f.BoolVar(&o.asIs, "no-springback", false, "blocks for the finished angles")
	f.StringArrayVar(&o.angles, "angle", nil, "angle to form, as `NAME=DEG`; may be repeated")
	o.format.add(cmd, "format", "format, where the file's name does not tell")
	_ = cmd.MarkFlagFilename("output", "stl", "3mf")
	cmd.RunE = func(_ *cobra.Command, args []string) error { return o.run(c, args[0]) }
	return cmd
}

// run makes the blocks, writes the file, and says which hinges got one.
func (o *formerOptions) run(c console, path string) error {
	write, err := o.pickFormat()
	if err != nil {
		return err
	}
	b, err := load(c, path, o.designFlags)
	if err != nil {
		return err
	}
	if !b.tree.Foldable {
		return &noShape{shapeless(rule.Check(b.tree, nil, fold.FoldedPosture), 1)}
	}
	options, err := o.options(b.tree)
	if err != nil {
		return err
	}
	specs, refused := former.Specs(b.tree, options)
	blocks, err := buildBlocks(specs, o.chord.value)
	if err != nil {
		return err
	}
	if len(blocks) == 0 {
		fmt.Fprintln(c.err, "foldfit: nothing was written: there is no hinge to make a block for")
		sayBlocks(c.err, b.tree, blocks, refused)
		return failed{}
	}
	if err := deliver(c, o.out, b.inputs, func(w io.Writer) error { return write(w, former.Layout(blocks)) }); err != nil {
		return err
	}
	sayBlocks(c.err, b.tree, blocks, refused)
	return nil
}

// pickFormat returns the writer that the file's extension or --format names.
func (o *formerOptions) pickFormat() (func(io.Writer, []mesh.Mesh) error, error) {
	if o.out == "" {
		return nil, &usage{"where to? -o FILE is missing", "for example: foldfit former board.yaml -o former.stl"}
	}
	format := o.format.value
	if format == "" {
		format = strings.ToLower(strings.TrimPrefix(filepath.Ext(o.out), "."))
	}
	switch {
	case format == "stl":
		return stl.Write, nil
	case format == "3mf":
		return threemf.Write, nil
	case o.out == "-":
		return nil, &usage{"stdout has no extension to tell the format", "add --format stl or --format 3mf"}
	}
	return nil, &usage{fmt.Sprintf("%s: the extension does not name a format for blocks", o.out), "end the name in .stl or .3mf, or add --format"}
}

// options reads the angles that the call gives.
func (o *formerOptions) options(t *fold.Tree) (former.Options, error) {
	out := former.Options{Springback: !o.asIs}
	var names []string
	for _, h := range t.Design.Hinges {
		names = append(names, h.Name)
	}
	for _, a := range o.angles {
		name, word, _ := strings.Cut(a, "=")
		v, err := strconv.ParseFloat(word, 64)
		switch {
		case !slices.Contains(names, name):
			return out, &usage{fmt.Sprintf("--angle %s: the design has no hinge %q", a, name), "hinges of this design: " + strings.Join(names, ", ")}
		case err != nil || !(v >= 1 && v <= 180):
			return out, &usage{fmt.Sprintf("--angle %s: an angle to form is a number from 1 to 180", a), fmt.Sprintf("for example: --angle %s=120", name)}
		}
		out.Angles = append(out.Angles, fold.HingeAngle{Hinge: name, Angle: v})
	}
	return out, nil
}

// buildBlocks returns the meshes of the blocks; that one cannot be made is a defect.
func buildBlocks(specs []former.Spec, chord float64) ([]former.Block, error) {
	face, err := draw.NewFace()
	if err != nil {
		return nil, &defect{err}
	}
	var blocks []former.Block
	for _, s := range specs {
		b, err := former.Build(s, pen(face), chord)
		if err != nil {
			return nil, &defect{err}
		}
		blocks = append(blocks, b)
	}
	return blocks, nil
}

// pen writes with the single strokes of drawings, set wider: grooves are broad.
func pen(face *draw.Face) former.Pen {
	const wider = 1.3
	return func(line string, size float64) [][2]flat.Pt {
		var out [][2]flat.Pt
		for _, r := range face.Strokes(&draw.Text{Size: size, Lines: []string{line}}) {
			for _, e := range r.Edges {
				out = append(out, [2]flat.Pt{{X: wider * e.P.X, Y: e.P.Y}, {X: wider * e.Q.X, Y: e.Q.Y}})
			}
		}
		return out
	}
}

// sayBlocks says which hinges got a block and with which figures, and which got none and why.
func sayBlocks(w io.Writer, t *fold.Tree, blocks []former.Block, refused []former.Refused) {
	unit, word := t.Design.Units.Length(), string(t.Design.Units)
	digits := map[fold.Units]int{fold.Mil: 1, fold.Inch: 4}
	num := func(v float64) string {
		n, ok := digits[t.Design.Units]
		if !ok {
			n = 2
		}
		return strconv.FormatFloat(v/unit, 'f', n, 64)
	}
	if word == "" {
		word = "mm"
	}
	for i := range blocks {
		b := &blocks[i]
		fmt.Fprintf(w, "%s: forms %.1f degrees at inside radius %s %s; ", b.Name, b.Angle, num(b.Radius), word)
		fmt.Fprintf(w, "faces %s near, %s far; flex %s wide; ", num(b.Near), num(b.Far), num(b.Width))
		_, high := b.Mesh.Box()
		style := [...]string{former.Foot: "on a foot", former.Base: "on a base plate", former.Bar: "a bar"}[b.Style]
		fmt.Fprintf(w, "%s; %s, %s long\n", held(b, num), style, num(high[2]))
		for _, line := range remarks(t, b) {
			fmt.Fprintf(w, "  %s\n", line)
		}
	}
	for _, r := range refused {
		fmt.Fprintf(w, "%s: no block: %s\n", r.Name, r.Why)
	}
	for i, h := range t.Design.Hinges {
		if len(t.Hinges[i].Bends) == 0 {
			fmt.Fprintf(w, "%s: no block: it makes no bend\n", h.Name)
		}
	}
}

// held says how the near flat is held.
func held(b *former.Block, num func(float64) string) string {
	if b.Slot == 0 {
		return "no slot for want of room, hold it by hand"
	}
	return "slot " + num(b.Slot)
}

// remarks returns what else there is to say of a block.
func remarks(t *fold.Tree, b *former.Block) []string {
	var out []string
	if k := b.Kept; k != nil && math.Abs(b.Angle-b.Finished/((k.Low+k.High)/2)) < 1e-9 {
		low, high, ok := k.Form(b.Finished)
		most := "more than any former reaches"
		if ok[1] {
			most = fmt.Sprintf("%.0f degrees", high)
		}
		out = append(out, fmt.Sprintf("springs back to %.1f degrees if it keeps %.0f %%; it may keep %.0f to %.0f %%, to form from %.0f degrees to %s: a first try, then --angle",
			b.Finished, 50*(k.Low+k.High), 100*k.Low, 100*k.High, low, most))
	}
	if b.Note != "" {
		out = append(out, b.Note)
	}
	if len(b.Bends) > 1 {
		out = append(out, fmt.Sprintf("serves %s, one after the other", bendNames(t, b.Bends)))
	}
	if !b.Written {
		out = append(out, "too small to engrave: write its name on it")
	}
	return out
}
