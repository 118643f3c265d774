package pattern

import (
	"errors"
	"fmt"
	"io"

	"foldfit/export/draw"
	"foldfit/fold"
)

// Options says how a pattern is made. The zero value prints the top side on a page as large as the drawing.
type Options struct {
	Side    fold.Side  // the side that is printed: seen from the bottom, x runs the other way
	Both    bool       // PDF: the other side as well, on pages of its own
	Paper   Paper      // the page's size, upright or lying as fits better; what is larger is cut into tiles
	Correct [2]float64 // lengths in mm that the printer gave the scale bars along x and y; the page is scaled to make up for it; 0 = as it should be
	Hash    string     // of the design, printed as it is; "" prints none
	Version string     // of foldfit, printed as it is; "" prints none
}

// Write writes the flat board as one true-scale SVG page, in mm. Outline, cutouts, bend areas and sections are exact to the
// 1e-4 mm to which coordinates are rounded. A fold toward the reader has a dashed centre line, one away from the reader a
// dash-dotted one. A board whose bend areas overlap is drawn all the same. The same tree and options give the same bytes. A
// tree without an outline is an error, and so are a paper on which the page does not fit as a whole, and a failing w.
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
// cut: each is whole on some tile.
func WritePDF(w io.Writer, t *fold.Tree, o Options) error {
	_, list, err := render(t, o)
	if err != nil {
		return err
	}
	if o.Both {
		o.Side = 1 - o.Side
		_, more, err := render(t, o)
		if err != nil {
			return err
		}
		list = append(list, more...)
	}
	return draw.WritePDF(w, list, o.madeBy())
}

// Pages returns how many pages the pattern of one side takes.
func Pages(t *fold.Tree, o Options) (int, error) {
	_, list, err := render(t, o)
	return len(list), err
}

// render makes the pages of one side.
func render(t *fold.Tree, o Options) (*draw.Face, []*draw.Sheet, error) {
	if t == nil || t.Design == nil || len(t.Board) == 0 {
		return nil, nil, errors.New("there is no board to draw: it has no outline")
	}
	f, err := draw.NewFace()
	if err != nil {
		return nil, nil, err
	}
	return f, pages(t, o, f), nil
}
