package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"foldfit/export/pattern"
	"foldfit/fold"
)

func newPattern(c console) *cobra.Command {
	var flags designFlags
	var out string
	side := choice{"top", []string{"top", "bottom"}}
	cmd := &cobra.Command{
		Use: "pattern DESIGN -o FILE", Short: "The true-scale pattern for a paper or film mock-up (.svg)",
		Long: `pattern draws the flat board at true scale on one page: outline, cutouts, rigid areas, the lines of every fold with words,
and bars of 100 mm to measure after printing. It is drawn even when bend areas overlap and the board cannot be folded.

Exit status: 0 written, 2 the input or the call could not be used.`,
		Example: `  foldfit pattern board.yaml -o pattern.svg
  foldfit pattern board.yaml -o bottom.svg --side bottom`,
		Args: oneDesign,
	}
	flags.add(cmd, true)
	cmd.Flags().StringVarP(&out, "output", "o", "", "`FILE` to write; - for stdout")
	side.add(cmd, "side", "the side of the board that is seen")
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
		return deliver(c, out, b.inputs, func(w io.Writer) error { return b.drawPattern(w, side.value) })
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

// drawPattern draws the pattern seen from a side.
func (b *board) drawPattern(w io.Writer, side string) error {
	o := pattern.Options{Hash: b.inputs[0].hash(), Version: version}
	if side == fold.Bottom.String() {
		o.Side = fold.Bottom
	}
	return pattern.Write(w, b.tree, o)
}
