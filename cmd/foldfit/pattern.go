package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"foldfit/export/pattern"
	"foldfit/fold"
)

func newPattern(c console) *cobra.Command {
	var flags designFlags
	var out, posture string
	side := choice{"top", []string{"top", "bottom"}}
	cmd := &cobra.Command{
		Use: "pattern DESIGN -o FILE", Short: "The true-scale pattern for a paper or film mock-up (.svg)",
		Long: `pattern draws the flat board at true scale on one page: outline, cutouts, rigid areas, the lines of every fold with words,
and bars of 100 mm to measure after printing. It is drawn even when bend areas overlap and the board cannot be folded.
Bend areas keep their width in every posture; --posture changes the angles and radii in the words.

Exit status: 0 written, 2 the input or the call could not be used.`,
		Example: `  foldfit pattern board.yaml -o pattern.svg
  foldfit pattern board.yaml -o bottom.svg --side bottom
  foldfit pattern board.yaml -o open.svg --posture open`,
		Args: oneDesign,
	}
	flags.add(cmd, true)
	cmd.Flags().StringVarP(&out, "output", "o", "", "`FILE` to write; - for stdout")
	side.add(cmd, "side", "the side of the board that is seen")
	postureFlag(cmd, &posture, "the end shape that the words describe")
	_ = cmd.MarkFlagFilename("output", "svg")
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		if err := patternFile(out); err != nil {
			return err
		}
		b, err := load(c, args[0], flags)
		if err != nil {
			return err
		}
		if !b.tree.Foldable {
			fmt.Fprintln(c.err, "foldfit: bend areas overlap, so the board cannot be folded as drawn; foldfit check says how to move the lines")
		}
		t, err := b.worded(posture)
		if err != nil {
			return err
		}
		return deliver(c, out, b.inputs, func(w io.Writer) error { return b.drawPattern(w, t, side.value) })
	}
	return cmd
}

// patternFile checks the name of the file to write.
func patternFile(out string) error {
	ext := strings.ToLower(filepath.Ext(out))
	switch {
	case out == "":
		return &usage{"where to? -o FILE is missing", "for example: foldfit pattern board.yaml -o pattern.svg"}
	case out == "-" || ext == ".svg":
		return nil
	case ext == ".pdf" || ext == ".dxf":
		return &usage{fmt.Sprintf("%s: the format %s is not supported yet", out, ext), "write .svg"}
	}
	return &usage{fmt.Sprintf("%s: the extension does not name a known format", out), "end the name in .svg"}
}

// worded returns the board with the angles and inside radii that its hinges have in a posture, for words on a drawing: the
// flat shape is the same in all of them.
func (b *board) worded(posture string) (*fold.Tree, error) {
	angles, err := b.posture(posture)
	if err != nil || posture == fold.FoldedPosture {
		return b.tree, err
	}
	t, d := *b.tree, *b.tree.Design
	t.Design = &d
	d.Hinges = slices.Clone(d.Hinges)
	for i := range d.Hinges {
		d.Hinges[i].Angle = angles[i]
		for k, bend := range t.Hinges[i].Bends {
			if r := t.Bends[bend].RadiusAt(angles[i]); angles[i] != 0 && (k == 0 || r < d.Hinges[i].Radius) {
				d.Hinges[i].Radius = r
			}
		}
	}
	d.Name += ", posture " + posture
	d.Title.Name = d.Name
	return &t, nil
}

// drawPattern draws the pattern of a board seen from a side.
func (b *board) drawPattern(w io.Writer, t *fold.Tree, side string) error {
	o := pattern.Options{Hash: b.inputs[0].hash(), Version: version}
	if side == fold.Bottom.String() {
		o.Side = fold.Bottom
	}
	return pattern.Write(w, t, o)
}
