package main

import (
	"errors"
	"io"

	"github.com/spf13/cobra"

	"foldfit/export/report"
)

func newCheck(c console) *cobra.Command {
	var flags designFlags
	var asJSON bool
	var fail failOn
	var posture, schedule string
	cmd := &cobra.Command{
		Use: "check DESIGN", Short: "Findings and gaps on the terminal",
		Long: `check folds the board into each of its end shapes, checks it there, follows it on the way there, and prints the verdict, what was
not checked, the findings with their way out, the bend schedule, the gaps and the motion. What a concession of the design accepts is
listed apart and does not count. Ctrl-C ends the proof of the motion and prints what is proven by then. "-" reads the design from stdin.

Exit status: 0 no finding of severity error, 1 at least one (see --fail-on), 2 the input or the call could not be used,
130 stopped by Ctrl-C with no error found.`,
		Example: `  foldfit check board.yaml
  foldfit check board.yaml --json > check.json
  foldfit check board.yaml --schedule bends.csv
  foldfit check board.yaml --posture open --limits our-fab.yaml
  foldfit check board.yaml --fail-on warning,incomplete`,
		Args: oneDesign,
	}
	flags.add(cmd, true)
	flags.addLimits(cmd)
	cmd.Flags().StringVar(&posture, "posture", "", "check this end shape alone: folded, flat, or a `NAME` of the design's postures (default: all of them)")
	chord := chordFlag(cmd)
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the results for programs (format "+report.Format+")")
	cmd.Flags().StringVar(&schedule, "schedule", "", "also write the bend schedule to `FILE`, a table with comma-separated values")
	_ = cmd.MarkFlagFilename("schedule", "csv")
	fail.add(cmd, "also end with status 1 on findings this bad: error, warning, query or advice; or on a verdict of incomplete")
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		if schedule == "-" {
			return &usage{"the bend schedule cannot go to stdout, where the results go", "name a file: --schedule bends.csv"}
		}
		b, err := load(c, args[0], flags)
		if err != nil {
			return err
		}
		names := b.tree.PostureNames()
		if posture != "" {
			names = []string{posture}
		}
		if _, err := b.posture(names[0]); err != nil {
			return err
		}
		r, err := checkPostures(b, names, chord.value)
		if err != nil {
			return err
		}
		if err := writeSchedule(c, schedule, b, r); err != nil {
			return err
		}
		show := func(w io.Writer) error {
			if asJSON {
				return report.JSON(w, r.Run)
			}
			return report.Text(w, r.Run, report.TextOptions{Colour: c.colour, Width: c.width})
		}
		if err := deliver(c, "-", nil, show); err != nil {
			return err
		}
		return fail.judge(r)
	}
	return cmd
}

// writeSchedule writes the bend schedule to a file; "" asks for none.
func writeSchedule(c console, path string, b *board, r *results) error {
	if path == "" {
		return nil
	}
	err := deliver(c, path, b.inputs, func(w io.Writer) error { return report.ScheduleCSV(w, r.Run) })
	var call *usage
	if errors.As(err, &call) {
		call.hint = "name another file with --schedule"
	}
	return err
}

// judge returns the error that ends a check with status 1, nil for a good board. Findings that a concession accepts do not
// count.
func (f *failOn) judge(r *results) error {
	if r.Verdict() == report.Fail || f.incomplete && r.Verdict() == report.Incomplete {
		return failed{}
	}
	for _, x := range r.Findings {
		if x.Accepted == nil && x.Severity >= f.severity() {
			return failed{}
		}
	}
	if r.stopped {
		return stopped{written: true}
	}
	return nil
}
