package pattern

import (
	"errors"
	"foldfit/export/draw"
	"io"

	"foldfit/fold"
)

// Options says how a pattern is made. The zero value prints the top side.
type Options struct {
	Side    fold.Side // the side that is printed: seen from the bottom, x runs the other way
	Hash    string    // of the design, printed as it is; "" prints none
	Version string    // of foldfit, printed as it is; "" prints none
}

// Write writes the flat board as one true-scale SVG page, in mm, as small as the drawing allows. Outline, cutouts, bend
// areas and sections are exact to the 1e-4 mm to which coordinates are rounded. A fold toward the reader has a dashed
// centre line, one away from the reader a dash-dotted one. A board whose bend areas overlap is drawn all the same. The
// same tree and options give the same bytes. A tree without an outline is an error, and so is a failing w.
func Write(w io.Writer, t *fold.Tree, o Options) error {
	if t == nil || t.Design == nil || len(t.Board) == 0 {
		return errors.New("there is no board to draw: it has no outline")
	}
	f, err := draw.NewFace()
	if err != nil {
		return err
	}
	return draw.WriteSVG(w, compose(t, o, f), f)
}

// compose makes the page.
func compose(t *fold.Tree, o Options, f *draw.Face) *draw.Sheet {
	s := survey(t, o.Side)
	l := label(s, f)
	return furnish(t, o, f, s, l, newDrawing(s, l).groups())
}
