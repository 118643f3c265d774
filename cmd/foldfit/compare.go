package main

import (
	"bytes"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"foldfit/export/report"
	"foldfit/fold/finding"
)

func newCompare(c console) *cobra.Command {
	var flags designFlags
	var asJSON bool
	var fail failOn
	cmd := &cobra.Command{
		Use: "compare OLD NEW", Short: "What changed between two designs: hinges, gaps, findings",
		Long: `compare checks two designs and says what changed: hinges that moved, gaps that grew or shrank by more than 0.005 mm, findings
that are new, gone or changed, and concessions that have lapsed. Either side may be the JSON of an earlier check instead of a
design (foldfit check --json).

Exit status: 0 the same or better, 1 NEW has an error that OLD has not (see --fail-on), 2 an input or the call could not be
used.`,
		Example: `  foldfit compare board-a.yaml board-b.yaml
  foldfit compare released.json board.yaml --fail-on warning`,
		Args: twoDesigns,
	}
	flags.add(cmd, false)
	flags.addLimits(cmd)
	chord := chordFlag(cmd)
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the comparison for programs (format "+report.CompareFormat+")")
	fail.add(cmd, "also end with status 1 on new findings this bad: error, warning, query or advice; or on a verdict that became incomplete")
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		var sides [2]report.Checked
		for i, path := range args {
			var err error
			if sides[i], err = checked(c, path, flags, chord.value); err != nil {
				return err
			}
		}
		result := report.Compare(sides[0], sides[1], version)
		show := func(w io.Writer) error {
			if asJSON {
				return report.CompareJSON(w, result)
			}
			return report.CompareText(w, result, report.TextOptions{Colour: c.colour, Width: c.width})
		}
		if err := deliver(c, "-", nil, show); err != nil {
			return err
		}
		return fail.judgeChange(result)
	}
	return cmd
}

// twoDesigns wants two arguments, of which at most one is stdin.
func twoDesigns(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) != 2:
		return &usage{fmt.Sprintf("compare takes two files, OLD and NEW, not %d", len(args)), "for example: " + firstExample(cmd)}
	case args[0] == "-" && args[1] == "-":
		return &usage{"stdin cannot be both OLD and NEW", "for example: " + firstExample(cmd)}
	}
	return nil
}

// checked returns one side of a comparison: the JSON of a check as it is, or a design that is checked now.
func checked(c console, path string, flags designFlags, chord float64) (report.Checked, error) {
	in, err := readDesign(c, path)
	if err != nil {
		return report.Checked{}, err
	}
	side, ok, err := report.ReadCheck(in.path, in.data)
	if err != nil {
		return side, &usage{err.Error(), "check the design again with this version"}
	}
	if ok {
		return side, nil
	}
	b, err := loadInput(c, in, flags)
	if err != nil {
		return side, err
	}
	r, err := check(b, chord)
	if err != nil {
		return side, err
	}
	if r.stopped {
		return side, stopped{}
	}
	var data bytes.Buffer
	if err := report.JSON(&data, r.Run); err != nil {
		return side, &defect{err}
	}
	side, _, err = report.ReadCheck(in.path, data.Bytes())
	if err != nil {
		return side, &defect{err}
	}
	return side, nil
}

// judgeChange returns the error that ends a comparison with status 1, nil where nothing got worse.
func (f *failOn) judgeChange(c report.Comparison) error {
	became := c.New.Verdict == report.Incomplete && c.Old.Verdict != report.Incomplete
	if c.Worse(finding.Error) > 0 || c.Worse(f.severity()) > 0 || f.incomplete && became {
		return failed{}
	}
	return nil
}
