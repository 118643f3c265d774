package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"foldfit/export/pattern"
	"foldfit/fold"
)

// patternOptions are the flags of pattern.
type patternOptions struct {
	designFlags
	out, posture, paper, correct string
	colours                      map[string]string
	side, format, machine        choice
	stock                        number
	gauge, blocks, crease        bool
}

func newPattern(c console) *cobra.Command {
	o := &patternOptions{side: choice{"top", []string{"top", "bottom", "both"}}, format: choice{"", []string{"svg", "pdf", "dxf"}},
		machine: choice{"printer", []string{"printer", "cutter"}}, stock: number{0.1, 0.01, 3, "MM"}}
	cmd := &cobra.Command{
		Use: "pattern DESIGN -o FILE", Short: "The true-scale pattern for a paper or film mock-up (.svg, .pdf, .dxf)",
		Long: `pattern draws the flat board at true scale: outline, cutouts, rigid areas, the lines of every fold with words, and bars of
100 mm (4 in on letter and tabloid) to measure after printing. It is drawn even when bend areas overlap and the board cannot be
folded. Bend areas keep their width in every posture; --posture changes the angles and radii in the words.

Without --paper there is one page, as large as the board needs. With it the page is upright or lying, whichever fits; a
larger board is cut into tiles (.pdf), with register marks and a map, and no label is cut in two. Viewers of the PDF are told
not to scale. If your printer does, measure its bars and say --correct x=99.2,y=99.6.

Beside every fold stands the rod to bend it round, for the thickness of your sheet (--stock); a table has the nearest drills and what
creasing would cost. --crease shifts lengths instead: bend areas become as long as sharp creases need to land where the board does.
--gauge adds cards to cut out that check an inside radius, --blocks the components to fold up of paper.

For a cutter or plotter write a .dxf (mm), or an .svg or .pdf with --for cutter: layers check, mark, text, score and cut in the order
of work, hairlines without dashes, no line twice, writing as strokes. --colours cut=#ff0000,score=#0000ff sets the colours your
machine tells operations by; without it all is black.

Exit status: 0 written, 2 the input or the call could not be used.`,
		Example: `  foldfit pattern board.yaml -o pattern.svg
  foldfit pattern board.yaml -o pattern.pdf --paper a4 --side both
  foldfit pattern board.yaml -o pattern.pdf --paper letter --correct x=101.2,y=101.5
  foldfit pattern board.yaml -o pattern.pdf --paper a4 --stock 0.19 --gauge --blocks
  foldfit pattern board.yaml -o film.dxf --side bottom
  foldfit pattern board.yaml -o film.svg --for cutter --colours cut=#ff0000,score=#0000ff
  foldfit pattern board.yaml -o open.svg --posture open`,
		Args: oneDesign,
	}
	o.add(cmd, true)
	f := cmd.Flags()
	f.StringVarP(&o.out, "output", "o", "", "`FILE` to write; - for stdout, SVG unless --format says otherwise")
	o.side.add(cmd, "side", "the side of the board that is seen; both on pages of their own (.pdf)")
	f.StringVar(&o.paper, "paper", "", "`PAPER` to print on: a4, a3, a2, a1, letter, tabloid, or WxH in mm (default: as large as the board needs)")
	f.StringVar(&o.correct, "correct", "", "`x=MM,y=MM`: what the printed bars measure; the page is scaled to make up for it")
	o.machine.add(cmd, "for", "what draws it")
	f.StringToStringVar(&o.colours, "colours", nil, "`LAYER=#rrggbb,...`: colours of a cutter's layers")
	f.Var(&o.stock, "stock", "thickness of the mock-up's sheet; 0.1 is office paper")
	f.BoolVar(&o.crease, "crease", false, "draw it for creasing: bend areas get the length that creases need")
	f.BoolVar(&o.gauge, "gauge", false, "add cards to cut out with the inside radius of each hinge (.pdf)")
	f.BoolVar(&o.blocks, "blocks", false, "add the components to cut out and fold up (.pdf)")
	o.format.add(cmd, "format", "format, where the file's name does not tell")
	postureFlag(cmd, &o.posture, "the end shape that the words describe")
	_ = cmd.MarkFlagFilename("output", "svg", "pdf", "dxf")
	cmd.RunE = func(_ *cobra.Command, args []string) error { return o.run(c, args[0]) }
	return cmd
}

// run draws the pattern and writes the file.
func (o *patternOptions) run(c console, path string) error {
	format, err := o.pickFormat()
	if err != nil {
		return err
	}
	page, err := o.page()
	if err == nil {
		err = o.agree(format)
	}
	if err != nil {
		return err
	}
	b, err := load(c, path, o.designFlags)
	if err != nil {
		return err
	}
	if !b.tree.Foldable {
		fmt.Fprintln(c.err, "foldfit: bend areas overlap, so the board cannot be folded as drawn; foldfit check says how to move the lines")
	}
	t, err := b.worded(o.posture)
	if err != nil {
		return err
	}
	page.Hash, page.Version = b.inputs[0].hash(), version
	if err := o.fits(t, page, format); err != nil {
		return err
	}
	write := map[string]func(io.Writer, *fold.Tree, pattern.Options) error{"svg": pattern.Write, "pdf": pattern.WritePDF, "dxf": pattern.WriteDXF}[format]
	return deliver(c, o.out, b.inputs, func(w io.Writer) error { return write(w, t, page) })
}

// fits refuses what the board itself rules out: several pages in one SVG file, and lengths that cannot be shifted.
func (o *patternOptions) fits(t *fold.Tree, page pattern.Options, format string) error {
	if format != "svg" && !o.crease {
		return nil
	}
	n, err := pattern.Pages(t, page)
	switch {
	case err != nil && o.crease:
		return &usage{"--crease: " + err.Error(), "leave --crease out and bend the mock-up round rods"}
	case err == nil && n > 1 && format == "svg":
		return &usage{fmt.Sprintf("on %s the pattern takes %d pages, and an SVG file has one", o.paper, n), "write a .pdf, name a larger paper, or leave --paper out"}
	}
	return nil
}

// page returns what the flags say about the page.
func (o *patternOptions) page() (pattern.Options, error) {
	page := pattern.Options{Both: o.side.value == "both", Stock: o.stock.value, Crease: o.crease, Gauge: o.gauge, Blocks: o.blocks,
		Cutter: o.machine.value == "cutter", Colours: o.colours}
	if err := pattern.CheckColours(o.colours); err != nil {
		return page, &usage{"--colours: " + err.Error(), "for example: --colours cut=#ff0000,score=#0000ff"}
	}
	if o.side.value == fold.Bottom.String() {
		page.Side = fold.Bottom
	}
	if o.paper != "" {
		p, err := pattern.PaperOf(o.paper)
		if err != nil {
			return page, &usage{"--paper: " + err.Error(), "for example: --paper a4"}
		}
		page.Paper = p
	}
	if o.correct == "" {
		return page, nil
	}
	return page, o.measured(&page)
}

// measured sets the printer's correction from what its bars measure.
func (o *patternOptions) measured(page *pattern.Options) error {
	want := 100.0
	if page.Paper.Inches {
		want = 101.6
	}
	for _, part := range strings.Split(o.correct, ",") {
		axis, length, _ := strings.Cut(strings.TrimSpace(part), "=")
		v, err := strconv.ParseFloat(length, 64)
		i := strings.Index("xy", axis)
		if err != nil || len(axis) != 1 || i < 0 || page.Correct[i] != 0 || !(v > 0.8*want && v < 1.25*want) {
			return &usage{fmt.Sprintf("--correct %s: %q is not a measured bar", o.correct, part),
				fmt.Sprintf("write what the printed bars measure in mm, near %g, for example: --correct x=%g,y=%g", want, want-0.8, want-0.4)}
		}
		page.Correct[i] = v
	}
	return nil
}

// agree refuses flags that do not go together.
func (o *patternOptions) agree(format string) error {
	cutter := o.machine.value == "cutter" || format == "dxf"
	switch {
	case format != "pdf" && o.side.value == "both":
		return &usage{"--side both takes two pages, and only a PDF file has more than one", "write a .pdf, or one file for each side"}
	case format != "pdf" && (o.gauge || o.blocks):
		return &usage{"--gauge and --blocks take pages of their own, and only a PDF file has more than one", "write a .pdf"}
	case cutter && (o.paper != "" || o.correct != "" || o.gauge || o.blocks || o.side.value == "both"):
		return &usage{"a drawing for a cutter is one side on one page as large as the board needs", "leave --paper, --correct, --gauge, --blocks and --side both out"}
	case len(o.colours) > 0 && (format == "dxf" || !cutter):
		return &usage{"--colours are for the layers of an .svg or .pdf for a cutter; a DXF tells its layers by name", "add --for cutter, or leave --colours out"}
	}
	return nil
}

// pickFormat takes the format from the file's extension or from --format.
func (o *patternOptions) pickFormat() (string, error) {
	ext := strings.ToLower(strings.TrimPrefix(filepath.Ext(o.out), "."))
	format := o.format.value
	switch {
	case o.out == "":
		return "", &usage{"where to? -o FILE is missing", "for example: foldfit pattern board.yaml -o pattern.svg"}
	case format != "":
	case o.out == "-":
		format = "svg"
	case ext == "svg" || ext == "pdf" || ext == "dxf":
		format = ext
	default:
		return "", &usage{fmt.Sprintf("%s: the extension does not name a known format", o.out), "end the name in .svg, .pdf or .dxf"}
	}
	return format, nil
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

// printPattern draws the pattern on the paper that goes with the design's units, with everything for the bench.
func (b *board) printPattern(w io.Writer) error {
	size := "a4"
	if u := b.tree.Design.Units; u == fold.Inch || u == fold.Mil {
		size = "letter"
	}
	paper, err := pattern.PaperOf(size)
	if err != nil {
		return err
	}
	return pattern.WritePDF(w, b.tree, pattern.Options{Paper: paper, Gauge: true, Blocks: true, Hash: b.inputs[0].hash(), Version: version})
}
