package sheet

import (
	"errors"
	"fmt"
	"io"

	"foldfit/export/draw"
	"foldfit/export/report"
	"foldfit/fold/flat"
	"foldfit/mesh/clash"
)

// Options says how a fold sheet is made. The zero value takes the smallest of the papers A3 to A0 that has room.
type Options struct {
	Width, Height float64 // of the paper, mm, in any order: the page always lies; 0 = chosen
	Inputs        []Input // of the design, printed as they are
}

// Input is a file that the design was read from, and its hash.
type Input struct{ Name, Hash string }

// ErrRoom is wrapped by the error for a paper on which the sheet has no room.
var ErrRoom = errors.New("the fold sheet has no room on this paper")

// Write writes the fold sheet of a checked board as one SVG page: of its first posture, with the enclosure's pieces (as
// they were read) as phantoms. Flat positions and views are exact but for the 1e-4 mm of the page to which coordinates are
// rounded; where a line of a view becomes hidden is found to about 0.05 mm of the page, and sections cut meshes of chord 0.005
// mm. A board whose bend areas overlap has no folded views. The same run and options give the same bytes. A board without an
// outline, a paper without room (ErrRoom) and a failing w are errors.
func Write(w io.Writer, r report.Run, walls []clash.Wall, o Options) error {
	p, err := compose(r, walls, o)
	if err != nil {
		return err
	}
	return draw.WriteSVG(w, p.sheet(), p.face)
}

// WritePDF writes the same as a PDF document.
func WritePDF(w io.Writer, r report.Run, walls []clash.Wall, o Options) error {
	p, err := compose(r, walls, o)
	if err != nil {
		return err
	}
	maker := "foldfit"
	if r.Version != "" {
		maker += " " + r.Version
	}
	return draw.WritePDF(w, []*draw.Sheet{p.sheet()}, maker)
}

// paper is a page that lies.
type paper struct {
	name          string
	width, height float64
}

// papers are those that are tried in turn.
var papers = []paper{{"A3", 420, 297}, {"A2", 594, 420}, {"A1", 841, 594}, {"A0", 1189, 841}}

// compose makes the page: on the paper asked for, else on the first one with room; the last one takes what it can.
func compose(r report.Run, walls []clash.Wall, o Options) (*page, error) {
	if r.Tree == nil || r.Tree.Design == nil || len(r.Tree.Board) == 0 {
		return nil, errors.New("there is no board to draw: it has no outline")
	}
	face, err := draw.NewFace()
	if err != nil {
		return nil, err
	}
	base := page{face: face, words: words{r.Tree.Design.Units}, run: r, walls: walls, inputs: o.Inputs, plan: r.Schedule()}
	if err := base.shape(); err != nil {
		return nil, err
	}
	if o.Width > 0 {
		p := base
		p.small = true
		p.paper = named(max(o.Width, o.Height), min(o.Width, o.Height))
		if !p.layout(false) {
			return nil, fmt.Errorf("%w: %g x %g mm", ErrRoom, o.Width, o.Height)
		}
		return &p, nil
	}
	for i, try := range papers {
		p := base
		p.paper, p.small = try, i >= len(papers)-2
		if p.layout(i == len(papers)-1) {
			return &p, nil
		}
	}
	return nil, ErrRoom
}

// named returns the paper of that size with its name, if it has one.
func named(width, height float64) paper {
	for _, p := range append(papers, paper{"A4", 297, 210}, paper{"letter", 279.4, 215.9}, paper{"tabloid", 431.8, 279.4}) {
		if p.width == width && p.height == height {
			return p
		}
	}
	return paper{fmt.Sprintf("%s x %s mm", short(width, 1), short(height, 1)), width, height}
}

// sheet returns the page as a display list.
func (p *page) sheet() *draw.Sheet {
	title := p.run.Tree.Design.Name + ": fold sheet"
	return &draw.Sheet{Box: flat.Box{Max: flat.Pt{X: p.paper.width, Y: p.paper.height}}, Title: title, Groups: p.groups}
}
