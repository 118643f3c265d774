package pattern

import (
	"errors"
	"fmt"
	"io"

	"foldfit/export/draw"
	"foldfit/fold"
)

// Options says how a pattern is made. The zero value prints the top side on a page as large as the drawing, for a sheet 0.1 mm thick.
type Options struct {
	Side    fold.Side         // the side that is printed: seen from the bottom, x runs the other way
	Both    bool              // PDF: the other side as well, on pages of its own
	Paper   Paper             // the page's size, upright or lying as fits better; what is larger is cut into tiles
	Correct [2]float64        // lengths in mm that the printer gave the scale bars along x and y; the page is scaled to make up for it; 0 = as it should be
	Stock   float64           // how thick the mock-up's sheet is, mm; 0 = 0.1
	Crease  bool              // drawn for creasing instead of bending: bend areas get the length that lets the parts land where the board's do
	Gauge   bool              // PDF: a page of cards to cut out, with the inside radius of each hinge
	Blocks  bool              // PDF: pages of components to cut out, fold up and glue on
	Cutter  bool              // for a machine: the layers of Layers as groups of hairlines, one page as large as they need; no Paper, no Correct
	Colours map[string]string // of a machine's layers by name, as #rrggbb; the others are black
	Hash    string            // of the design, printed as it is; "" prints none
	Version string            // of foldfit, printed as it is; "" prints none
	apart   bool              // the bending help stands on pages of its own
	sheet   *stretch          // the board for creasing; nil = as it is
}

// Write writes the flat board as one true-scale SVG page, in mm. Outline, cutouts, bend areas and sections are exact to the
// 1e-4 mm to which coordinates are rounded. A fold toward the reader has a dashed centre line, one away from the reader a
// dash-dotted one. A board whose bend areas overlap is drawn all the same, except for creasing. The same tree and options give the
// same bytes. A tree without an outline is an error, and so are more pages than one, a loop of flex drawn for creasing, Colours that
// CheckColours refuses, and a failing w.
func Write(w io.Writer, t *fold.Tree, o Options) error {
	f, list, err := render(t, o)
	if err != nil {
		return err
	}
	if len(list) > 1 {
		return fmt.Errorf("on %s the pattern takes %d pages, and an SVG file has one", o.Paper.Name, len(list))
	}
	return draw.WriteSVG(w, list[0], f)
}

// WritePDF writes the same as the pages of a PDF document, in tiles where the paper is smaller than the drawing: an overview, then
// the tiles with an overlap of at least 10 mm, register marks in it, scale bars and a check square on every page. No label is
// cut: each is whole on some tile. The bending help follows on pages of its own where it has no room beside the drawing, then gauge
// and components if they are asked for.
func WritePDF(w io.Writer, t *fold.Tree, o Options) error {
	_, list, err := render(t, o)
	if err != nil {
		return err
	}
	return draw.WritePDF(w, list, o.madeBy())
}

// Pages returns how many pages the pattern takes.
func Pages(t *fold.Tree, o Options) (int, error) {
	_, list, err := render(t, o)
	return len(list), err
}

// render makes the pages.
func render(t *fold.Tree, o Options) (*draw.Face, []*draw.Sheet, error) {
	f, err := ready(t)
	switch {
	case err != nil:
		return nil, nil, err
	case o.Crease && o.sheet == nil:
		if o.sheet, err = stretched(t); err != nil {
			return nil, nil, err
		}
		return render(t, o)
	case o.Cutter:
		return f, []*draw.Sheet{machineSheet(t, o, f)}, CheckColours(o.Colours)
	}
	return f, pages(t, o, f), nil
}

// ready returns the lettering, or what keeps the board from being drawn.
func ready(t *fold.Tree) (*draw.Face, error) {
	if t == nil || t.Design == nil || len(t.Board) == 0 {
		return nil, errors.New("there is no board to draw: it has no outline")
	}
	return draw.NewFace()
}
