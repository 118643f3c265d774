package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"foldfit/export/report"
	"foldfit/fold/rule"
)

// foldOptions are the flags of fold.
type foldOptions struct {
	designFlags
	out      string
	chord    *number
	progress number
	step     int  // of the sequence, from 1
	stepped  bool // the call names a step
	posture  string
	shape    choice
	frame    choice
	format   choice
}

func newFold(c console) *cobra.Command {
	o := &foldOptions{
		progress: number{1, 0, 1, "0..1"},
		shape:    choice{"drawn", []string{"drawn", "free"}},
		frame:    choice{"housing", []string{"housing", "board"}},
		format:   choice{"", []string{"glb", "stl", "3mf", "obj"}},
	}
	cmd := &cobra.Command{
		Use: "fold DESIGN -o FILE", Short: "The folded board as a 3D file (.glb, .stl, .3mf, .obj)",
		Long: `fold writes the folded board. The extension picks the format:
  .glb  opens in any 3D viewer, with the enclosure and an animation from flat to folded; metres, y up.
        Where the design has a sequence, the animation plays it: pieces come and go, board and pieces move along their paths
  .stl  the board alone as triangles; mm, z up
  .3mf  the board alone, a named object for each body; mm, z up
  .obj  the same as text
All stand in the housing's frame that the design's place gives, unless --frame board.

Bends are the cylinders that the design draws. With --shape free each bend has the shape that its flex takes when only the next
rigid or stiffened edges hold it, which stay where the cylinder places them (the elastica of least energy). A bend
that no such edges hold keeps the cylinder; that is said on stderr. A .glb with free shapes stands still: it has no animation.

With --step the file shows one moment of the design's sequence, where --progress counts in that step: the board where it is
on its path, and in a .glb the enclosure's pieces that are there by then. It stands still, and no gaps are measured.

Exit status: 0 written, 1 the board has no true folded shape and nothing is written, 2 the input or the call could not be used.`,
		Example: `  foldfit fold board.yaml -o board.glb
  foldfit fold board.yaml -o half.stl --progress 0.5
  foldfit fold board.yaml -o open.glb --posture open
  foldfit fold board.yaml -o second.glb --step 2 --progress 0.5
  foldfit fold board.yaml -o free.glb --shape free
  foldfit fold board.yaml -o wide.glb --set hinges.neck.angle=120`,
		Args: oneDesign,
	}
	o.add(cmd, true)
	o.chord = chordFlag(cmd)
	f := cmd.Flags()
	f.StringVarP(&o.out, "output", "o", "", "`FILE` to write; - for stdout, with --format")
	f.Var(&o.progress, "progress", "fraction of all angles: 0 flat, 1 the posture; with --step, how far in that step")
	f.IntVar(&o.step, "step", 0, "step of the design's sequence to show, `N` from 1")
	postureFlag(cmd, &o.posture, "the design's end shape to write")
	o.shape.add(cmd, "shape", "shape of the bends: as drawn, or as the flex takes it between its clamps")
	o.frame.add(cmd, "frame", "frame of the coordinates")
	o.format.add(cmd, "format", "format, where the file's name does not tell")
	_ = cmd.MarkFlagFilename("output", o.format.from...)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		o.stepped = cmd.Flags().Changed("step")
		return o.run(c, args[0])
	}
	return cmd
}

// run folds the design and writes the file.
func (o *foldOptions) run(c console, path string) error {
	format, err := o.pickFormat()
	if err != nil {
		return err
	}
	b, err := load(c, path, o.designFlags)
	if err != nil {
		return err
	}
	if _, err := b.posture(o.posture); err != nil {
		return err
	}
	if !b.tree.Foldable {
		return &noShape{shapeless(rule.Check(b.tree, nil, o.posture), 1)}
	}
	s, fraction, err := o.pose(b)
	if err != nil {
		return err
	}
	if reasons := shapeless(rule.Check(b.tree, s.folded, o.posture), fraction); len(reasons) > 0 {
		return &noShape{reasons}
	}
	var said []string
	if o.shape.value == "free" {
		said = s.relax()
	}
	if format == "glb" && fraction == 1 && s.state == nil { // contacts are marked in end shapes only
		err = s.measure(o.chord.value, &report.Run{})
	} else {
		err = s.skin(o.chord.value)
	}
	if err != nil {
		return err
	}
	boardFrame := o.frame.value == "board"
	write := map[string]func(io.Writer, bool) error{"glb": s.writeGLB, "stl": s.writeSTL, "3mf": s.write3MF, "obj": s.writeOBJ}[format]
	if err := deliver(c, o.out, b.inputs, func(w io.Writer) error { return write(w, boardFrame) }); err != nil {
		return err
	}
	for _, line := range said {
		fmt.Fprintln(c.err, line)
	}
	return nil
}

// pickFormat takes the format from the file's extension or from --format.
func (o *foldOptions) pickFormat() (string, error) {
	if o.out == "" {
		return "", &usage{"where to? -o FILE is missing", "for example: foldfit fold board.yaml -o board.glb"}
	}
	ext := strings.ToLower(strings.TrimPrefix(filepath.Ext(o.out), "."))
	switch {
	case o.format.value != "":
		return o.format.value, nil
	case slices.Contains(o.format.from, ext):
		return ext, nil
	case o.out == "-":
		return "", &usage{"stdout has no extension to tell the format", "add --format glb, stl, 3mf or obj"}
	case ext == "step":
		return "", &usage{fmt.Sprintf("%s: the format .%s is not supported yet", o.out, ext), "write .glb, .stl, .3mf or .obj"}
	}
	return "", &usage{fmt.Sprintf("%s: the extension does not name a known format", o.out), "end the name in .glb, .stl, .3mf or .obj, or add --format"}
}
