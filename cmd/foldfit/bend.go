package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"foldfit/export/report"
	"foldfit/fold"
	"foldfit/fold/designfile"
	"foldfit/fold/stackup"
)

// bendFlags are the flags of foldfit bend.
type bendFlags struct {
	angle, radius, thickness, copper, width number
	stack, name                             string
	side, use                               choice
	runOuts, radii                          numbers
	strict, asJSON                          bool
}

func newBend(c console) *cobra.Command {
	f := &bendFlags{
		angle: number{0, 0.1, 360, "DEG"}, radius: number{0, 0.001, 1000, "MM"}, thickness: number{0, 0.001, 100, "MM"},
		copper: number{0, 0, 100, "N"}, width: number{0, 0.01, 10000, "MM"},
		side: choice{"top", []string{"top", "bottom"}}, use: choice{"install", []string{"install", "dynamic"}},
		runOuts: numbers{least: 0, most: 1000, fewest: 2, count: 2, word: "MM,MM"}, radii: numbers{least: 0.001, most: 1000, fewest: 1, count: 50, word: "MM,MM,..."},
	}
	cmd := &cobra.Command{
		Use: "bend", Short: "A quick answer for one bend, without a design",
		Long: `bend answers for one bend by itself, before there is a design: flat width, ratio and what is asked of it, strain of copper and
films, least radii, moment, springback, life, and the shape between clamps; each with its formula, source and how far to trust it.
The stack-up comes from a file (a design, its keys stackups, materials and flex alone, or one stack-up's layers at the top; "-"
reads stdin), or is a plain sheet given by its thickness. Lengths are in mm.

Exit status: 0 whatever the answer is, 2 the input or the call could not be used.`,
		Example: `  foldfit bend --angle 180 --radius 1.5 --stack core.yaml
  foldfit bend --angle 180 --radius 1.5 --stack core.yaml --use dynamic --side bottom --width 12
  foldfit bend --angle 90 --radius 1 --thickness 0.2 --copper-layers 2 --run-out 1,1 --radii 0.5,1,1.5,2`,
		Args: noArguments,
	}
	f.add(cmd)
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		asked, err := f.asked(c, cmd.Flags().Changed)
		if err != nil {
			return err
		}
		answer := report.Bend(asked)
		return deliver(c, "-", nil, func(w io.Writer) error {
			if f.asJSON {
				return report.BendJSON(w, answer)
			}
			return report.BendText(w, answer, report.TextOptions{Colour: c.colour, Width: c.width})
		})
	}
	return cmd
}

func (f *bendFlags) add(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.Var(&f.angle, "angle", "by how much the flex bends (rotation, not the angle left between the legs)")
	flags.Var(&f.radius, "radius", "inside radius")
	flags.StringVar(&f.stack, "stack", "", "`FILE` with the stack-up")
	flags.StringVar(&f.name, "name", "", "the stack-up's `NAME` in the file (default: what the key flex names, or the first that is not rigid)")
	flags.Var(&f.thickness, "thickness", "instead of a file: thickness of a plain sheet")
	flags.Var(&f.copper, "copper-layers", "of the plain sheet: number of copper layers")
	f.side.add(cmd, "side", "the side that lies inside the bend")
	f.use.add(cmd, "use", "bent once to install, or working")
	flags.Var(&f.runOuts, "run-out", "straight flex between the bend and the rigid edge on either side; gives the free shape")
	flags.Var(&f.width, "width", "of the flex along the bend; for moment and force")
	flags.Var(&f.radii, "radii", "also a table over these inside radii")
	flags.BoolVar(&f.strict, "strict", false, "limits of the profile strict")
	flags.BoolVar(&f.asJSON, "json", false, "print the answer for programs (format "+report.BendFormat+")")
	_ = cmd.MarkFlagFilename("stack", "yaml", "yml", "json")
}

// asked turns the flags into a question; given says which flags the call has.
func (f *bendFlags) asked(c console, given func(string) bool) (report.BendAsked, error) {
	if wrong := f.wrong(given); len(wrong) > 0 {
		return report.BendAsked{}, &usage{strings.Join(wrong, "\n"), "for example: foldfit bend --angle 180 --radius 1.5 --thickness 0.2 --copper-layers 2"}
	}
	q := report.BendAsked{Angle: f.angle.value, Radius: f.radius.value, Use: f.use.value, RunOuts: f.runOuts.values, Width: f.width.value,
		Radii: f.radii.values, Version: version}
	if f.side.value == "bottom" {
		q.Side = stackup.Bottom
	}
	if f.strict {
		q.Limits = fold.Limits{Profile: "strict"}
	}
	if !given("stack") {
		q.Stack = f.sheet(given("copper-layers"))
		return q, nil
	}
	return q, f.readStack(c, &q)
}

// wrong returns all that is wrong with how the flags go together.
func (f *bendFlags) wrong(given func(string) bool) []string {
	var out []string
	for _, w := range []struct {
		is   bool
		what string
	}{
		{!given("angle"), "which angle? --angle is missing"},
		{!given("radius"), "which inside radius? --radius is missing"},
		{!given("stack") && !given("thickness"), "which flex? give --stack FILE or --thickness"},
		{given("stack") && given("thickness"), "--stack and --thickness exclude each other"},
		{given("stack") && given("copper-layers"), "--copper-layers is for a plain sheet; the file of --stack says how many there are"},
		{given("name") && !given("stack"), "--name chooses from the file of --stack, which is missing"},
		{f.copper.value != math.Trunc(f.copper.value), fmt.Sprintf("--copper-layers %g: must be a whole number", f.copper.value)},
	} {
		if w.is {
			out = append(out, w.what)
		}
	}
	return out
}

// sheet returns the plain sheet that the flags describe.
func (f *bendFlags) sheet(counted bool) stackup.Stackup {
	layers := -1
	if counted {
		layers = int(f.copper.value)
	}
	return stackup.Stackup{Name: "plain sheet", Plain: true, CopperLayers: layers,
		Layers: []stackup.Layer{{Thickness: f.thickness.value, Modulus: 1, Coverage: 1}}}
}

// readStack fills in the stack-up asked for from the file.
func (f *bendFlags) readStack(c console, q *report.BendAsked) error {
	in, err := readDesign(c, f.stack)
	if err != nil {
		return err
	}
	stacks, problems := designfile.ParseStacks(in.path, in.data)
	if len(problems) > 0 {
		return &unusable{in.path, []input{in}, problems}
	}
	q.File, q.Notes = in.path, stacks.Notes
	q.Stack, err = f.pick(stacks, in.path)
	return err
}

// pick returns the stack-up with the name asked for, else the one that the key flex names, else the first that bends.
func (f *bendFlags) pick(stacks designfile.Stacks, file string) (stackup.Stackup, error) {
	name := f.name
	if name == "" {
		name = stacks.Flex
	}
	var names []string
	for _, s := range stacks.Stackups {
		switch {
		case s.Name == name && s.Rigid:
			return s, &usage{fmt.Sprintf("%s: the stack-up %s is rigid and does not bend", file, name), "name one without rigid: true"}
		case s.Name == name, name == "" && !s.Rigid:
			return s, nil
		case !s.Rigid:
			names = append(names, s.Name)
		}
	}
	if name == "" || len(names) == 0 {
		return stackup.Stackup{}, &usage{file + ": all stack-ups are rigid; none bends", "give one without rigid: true"}
	}
	hint := "those that bend: " + strings.Join(names, ", ")
	if near := designfile.Nearest(name, names); near != "" {
		hint = fmt.Sprintf("did you mean %q? %s", near, hint)
	}
	return stackup.Stackup{}, &usage{fmt.Sprintf("%s: there is no stack-up %q", file, name), hint}
}
