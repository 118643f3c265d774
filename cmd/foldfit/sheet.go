package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"foldfit/export/pattern"
	"foldfit/export/sheet"
	"foldfit/mesh/clash"
)

// sheetOptions are the flags of sheet.
type sheetOptions struct {
	designFlags
	out, posture, paper string
	format              choice
}

func newSheet(c console) *cobra.Command {
	o := &sheetOptions{format: choice{"", []string{"svg", "pdf"}}}
	cmd := &cobra.Command{
		Use: "sheet DESIGN -o FILE", Short: "The fold sheet: one drawing page for fabricator and mechanical engineer (.pdf, .svg)",
		Long: `sheet checks the design and draws one page: the flat board with dimensions from the datum to every bend, the bend schedule,
the stack-ups, views of the folded board from front, top and side and in isometric projection, sections through the worst
gaps, open findings, concessions, cautions, and a title block with what the design's title says.

Without --paper the page is the smallest of A3, A2, A1 and A0 that has room. Views and sections show the folded posture, or
the one named by --posture. A board whose bend areas overlap has no folded views.

Exit status: 0 written, 2 the input or the call could not be used.`,
		Example: `  foldfit sheet board.yaml -o sheet.pdf
  foldfit sheet board.yaml -o sheet.svg --paper a2
  foldfit sheet board.yaml -o open.pdf --posture open`,
		Args: oneDesign,
	}
	o.add(cmd, true)
	o.addLimits(cmd)
	f := cmd.Flags()
	f.StringVarP(&o.out, "output", "o", "", "`FILE` to write; - for stdout, SVG unless --format says otherwise")
	f.StringVar(&o.paper, "paper", "", "`PAPER`: a4, a3, a2, a1, letter, tabloid, or WxH in mm; it always lies (default: the smallest with room)")
	o.format.add(cmd, "format", "format, where the file's name does not tell")
	f.StringVar(&o.posture, "posture", "", "check and draw one end shape alone: folded, flat, or a `NAME` of its postures")
	_ = cmd.MarkFlagFilename("output", "svg", "pdf")
	cmd.RunE = func(_ *cobra.Command, args []string) error { return o.run(c, args[0]) }
	return cmd
}

// run checks the board, draws the sheet and writes the file.
func (o *sheetOptions) run(c console, path string) error {
	format, err := o.pickFormat()
	if err != nil {
		return err
	}
	page, err := o.page()
	if err != nil {
		return err
	}
	o.hashed = true
	b, err := load(c, path, o.designFlags)
	if err != nil {
		return err
	}
	names := b.tree.PostureNames()
	if o.posture != "" {
		names = []string{o.posture}
	}
	r, err := checkPostures(b, names, defaultChord)
	if err != nil {
		return err
	}
	if r.stopped {
		return stopped{}
	}
	var data strings.Builder
	err = b.drawSheet(&data, r, page, format)
	if errors.Is(err, sheet.ErrRoom) {
		return &usage{err.Error(), "name a larger paper, or leave --paper out"}
	}
	if err != nil {
		return &defect{err}
	}
	return deliver(c, o.out, b.inputs, func(w io.Writer) error {
		_, err := io.WriteString(w, data.String())
		return err
	})
}

// page returns what the flags say about the page.
func (o *sheetOptions) page() (sheet.Options, error) {
	if o.paper == "" {
		return sheet.Options{}, nil
	}
	p, err := pattern.PaperOf(o.paper)
	if err != nil {
		return sheet.Options{}, &usage{"--paper: " + err.Error(), "for example: --paper a3"}
	}
	return sheet.Options{Width: p.Width, Height: p.Height}, nil
}

// pickFormat takes the format from the file's extension or from --format.
func (o *sheetOptions) pickFormat() (string, error) {
	ext := strings.ToLower(strings.TrimPrefix(filepath.Ext(o.out), "."))
	switch {
	case o.out == "":
		return "", &usage{"where to? -o FILE is missing", "for example: foldfit sheet board.yaml -o sheet.pdf"}
	case o.format.value != "":
		return o.format.value, nil
	case o.out == "-":
		return "svg", nil
	case ext == "svg" || ext == "pdf":
		return ext, nil
	}
	return "", &usage{fmt.Sprintf("%s: the extension does not name a known format", o.out), "end the name in .pdf or .svg"}
}

// drawSheet draws the fold sheet of a checked board.
func (b *board) drawSheet(w io.Writer, r *results, page sheet.Options, format string) error {
	for _, in := range b.inputs {
		page.Inputs = append(page.Inputs, sheet.Input{Name: filepath.Base(in.path), Hash: in.hash()})
	}
	var walls []clash.Wall
	if len(r.shapes) > 0 {
		walls = r.shapes[0].walls
	}
	if format == "pdf" {
		return sheet.WritePDF(w, r.Run, walls, page)
	}
	return sheet.Write(w, r.Run, walls, page)
}
