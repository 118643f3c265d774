package main

import (
	_ "embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"strconv"
	"strings"
	"text/template"

	"github.com/spf13/cobra"
)

//go:embed starter.yaml.tmpl
var starterSource string

var starterTemplate = template.Must(template.New("starter").Funcs(template.FuncMap{"n": plainNumber}).Parse(starterSource))

func newNew(c console) *cobra.Command {
	strip := lengths{30, 14, 26}
	width := number{20, 0.1, 10000, "MM"}
	var out string
	cmd := &cobra.Command{
		Use: "new [-o FILE]", Short: "A commented starter design to edit",
		Long: `new writes a design that checks clean, with comments that say what to change: a strip of rigid and flex parts in turn, folded
in every flex part. An existing file is never replaced.`,
		Example: `  foldfit new -o board.yaml
  foldfit new --strip 30,14,26 --width 20 -o board.yaml
  foldfit new --strip 25,10,12,10,25 --width 18`,
		Args: noArguments,
	}
	cmd.Flags().Var(&strip, "strip", "lengths of the parts from left to right: rigid, flex, rigid and so on")
	cmd.Flags().Var(&width, "width", "width of the strip")
	cmd.Flags().StringVarP(&out, "output", "o", "", "`FILE` to write; stdout without it")
	_ = cmd.MarkFlagFilename("output", "yaml", "yml")
	cmd.RunE = func(*cobra.Command, []string) error {
		s, err := newStarter(strip, width.value)
		if err != nil {
			return err
		}
		if _, err := os.Lstat(out); out != "" && out != "-" && !errors.Is(err, fs.ErrNotExist) {
			return &usage{out + " exists already and was left alone", "choose another name"}
		}
		return deliver(c, out, nil, func(w io.Writer) error { return starterTemplate.Execute(w, s) })
	}
	return cmd
}

// The starter's board: a plain flex of two copper layers whose inside radius of ten times its thickness meets the common
// limit, between plain rigid parts. Invented, ours.
const (
	starterFlex   = 0.2
	starterRigid  = 1.6
	starterRadius = 2.0
	starterMargin = 0.5 // flat flex left on each side of a bend area, mm
)

// starter is what the template shows.
type starter struct {
	Length, Width, Angle                   float64
	Flex, Rigid, Radius                    float64
	Sections                               []starterSection
	Hinges                                 []starterHinge
	PartX, PartY, PartSize                 float64
	BoxLow, BoxHigh, BoxDown, BoxUp, RoomY float64
}

type starterSection struct {
	Name   string
	X0, X1 float64
}

type starterHinge struct {
	Name, Toward string
	X            float64
}

// newStarter lays a strip out: all folds have the same angle, and turn toward top and bottom in turn, so that the parts lie
// on each other or climb like stairs and never meet. The angle is 180 degrees where every flex part is long enough, else 90.
func newStarter(strip lengths, width float64) (*starter, error) {
	if len(strip) < 3 || len(strip)%2 == 0 {
		return nil, &usage{fmt.Sprintf("--strip %s: a strip starts and ends with a rigid part, with a flex part between two rigid ones", &strip),
			"for example: foldfit new --strip 30,14,26"}
	}
	s := &starter{Width: width, Angle: 180, Flex: starterFlex, Rigid: starterRigid, Radius: starterRadius}
	x := 0.0
	for i, l := range strip {
		name := strconv.Itoa(i/2 + 1)
		if i%2 == 0 {
			s.Sections = append(s.Sections, starterSection{"rigid-" + name, x, x + l})
		} else {
			s.Hinges = append(s.Hinges, starterHinge{"fold-" + name, [...]string{"top", "bottom"}[i/2%2], x + l/2})
			if err := s.fit(l); err != nil {
				return nil, err
			}
		}
		x += l
	}
	s.Length = x
	s.PartSize = math.Round(min(6, strip[0]/2, width/2)*100) / 100
	s.PartX, s.PartY = strip[0]/2, width/2
	s.BoxLow, s.BoxHigh, s.BoxDown, s.BoxUp, s.RoomY = -2, strip[0]+2, -4, -3, width+2
	return s, nil
}

// fit lowers the angle of all folds until the bend area fits into a flex part of this length.
func (s *starter) fit(length float64) error {
	for s.AreaWidth()+2*starterMargin > length {
		if s.Angle == 90 {
			least := math.Ceil((s.AreaWidth()+2*starterMargin)*10) / 10
			return &usage{fmt.Sprintf("a flex part of %g mm is too short to fold by 90 deg at an inside radius of %g mm", length, starterRadius),
				fmt.Sprintf("give it %g mm or more", least)}
		}
		s.Angle = 90
	}
	return nil
}

// AreaWidth returns the flat width of a bend area: neutral radius times angle.
func (s *starter) AreaWidth() float64 { return (s.Radius + s.Flex/2) * s.Angle * math.Pi / 180 }

// plainNumber writes a number without an exponent and without needless digits.
func plainNumber(v float64) string {
	out := strconv.FormatFloat(v, 'f', 6, 64)
	return strings.TrimSuffix(strings.TrimRight(out, "0"), ".")
}
