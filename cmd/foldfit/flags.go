package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"foldfit/fold"
	"foldfit/fold/finding"
)

// number is a flag with a number between least and most; it takes no NaN and no infinity.
type number struct {
	value, least, most float64
	word               string // what kind of number, for the help text
}

func (n *number) String() string { return strconv.FormatFloat(n.value, 'g', -1, 64) }
func (n *number) Type() string   { return n.word }

// Set reads the number.
func (n *number) Set(s string) error {
	v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Errorf("not a number")
	}
	if v < n.least || v > n.most {
		return fmt.Errorf("must be from %g to %g", n.least, n.most)
	}
	n.value = v
	return nil
}

// defaultChord is the largest distance in mm between a mesh and the true surface where the caller does not say.
const defaultChord = 0.01

// chordFlag adds --chord.
func chordFlag(cmd *cobra.Command) *number {
	n := &number{defaultChord, 1e-5, 100, "MM"}
	cmd.Flags().Var(n, "chord", "largest distance between the meshes and the true surfaces")
	return n
}

// lengths is a flag with several positive lengths.
type lengths []float64

func (l *lengths) Type() string { return "MM,MM,..." }

func (l *lengths) String() string {
	words := make([]string, len(*l))
	for i, v := range *l {
		words[i] = strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strings.Join(words, ",")
}

// Set reads lengths separated by commas.
func (l *lengths) Set(s string) error {
	var out lengths
	for _, word := range strings.Split(s, ",") {
		n := number{least: 0.1, most: 10000}
		if err := n.Set(word); err != nil {
			return fmt.Errorf("%q: %w", word, err)
		}
		out = append(out, n.value)
	}
	*l = out
	return nil
}

// choice is a flag with one of a few words.
type choice struct {
	value string
	from  []string
}

func (c *choice) String() string { return c.value }
func (c *choice) Type() string   { return strings.Join(c.from, "|") }

// Set takes one of the words.
func (c *choice) Set(s string) error {
	if !slices.Contains(c.from, s) {
		return fmt.Errorf("must be one of %s", strings.Join(c.from, ", "))
	}
	c.value = s
	return nil
}

// add adds the flag with its words for the shell's completion.
func (c *choice) add(cmd *cobra.Command, name, about string) {
	cmd.Flags().Var(c, name, about)
	_ = cmd.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(c.from, cobra.ShellCompDirectiveNoFileComp))
}

// failOn is the flag that says which results end a check with status 1. Its zero value: errors only.
type failOn struct {
	least      finding.Severity
	set        bool
	incomplete bool
}

func (f *failOn) Type() string { return "WORD" }

func (f *failOn) String() string {
	switch {
	case f.set && f.incomplete:
		return f.least.String() + ",incomplete"
	case f.incomplete:
		return "incomplete"
	case f.set:
		return f.least.String()
	}
	return "error"
}

// add adds the flag with its words for the shell's completion.
func (f *failOn) add(cmd *cobra.Command, about string) {
	cmd.Flags().Var(f, "fail-on", about)
	words := []string{"error", "warning", "query", "advice", "incomplete"}
	_ = cmd.RegisterFlagCompletionFunc("fail-on", cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
}

// Set reads one or more words separated by commas.
func (f *failOn) Set(s string) error {
	for _, word := range strings.Split(s, ",") {
		known := word == "incomplete"
		for sev := finding.Advice; sev <= finding.Error; sev++ {
			if word == sev.String() {
				known, f.set, f.least = true, true, sev
			}
		}
		if !known {
			return fmt.Errorf("must be error, warning, query, advice or incomplete")
		}
		f.incomplete = f.incomplete || word == "incomplete"
	}
	return nil
}

// severity returns the lowest severity that fails.
func (f *failOn) severity() finding.Severity {
	if !f.set {
		return finding.Error
	}
	return f.least
}

// designFlags are the flags of all commands that read a design.
type designFlags struct {
	allowOutside bool
	set          []string
	limits       string
	hashed       bool // the command names the hashes of all inputs
}

// add adds the flags; edits says whether --set is among them.
func (d *designFlags) add(cmd *cobra.Command, edits bool) {
	cmd.Flags().BoolVar(&d.allowOutside, "allow-outside", false, "let the design name mesh files outside its own folder")
	if edits {
		cmd.Flags().StringArrayVar(&d.set, "set", nil, "`PATH=VALUE` to edit in the design before it is read, such as hinges.neck.angle=45; may be repeated")
	}
	cmd.ValidArgsFunction = cobra.FixedCompletions([]string{"yaml", "yml", "json"}, cobra.ShellCompDirectiveFilterFileExt)
}

// addLimits adds --limits.
func (d *designFlags) addLimits(cmd *cobra.Command) {
	cmd.Flags().StringVar(&d.limits, "limits", "", "`FILE` with limits of the rules (profile, bend-ratio, inside-corner) that go before the design's own")
	_ = cmd.MarkFlagFilename("limits", "yaml", "yml", "json")
}

// postureFlag adds --posture.
func postureFlag(cmd *cobra.Command, name *string, about string) {
	cmd.Flags().StringVar(name, "posture", fold.FoldedPosture, about+": folded, flat, or a `NAME` of its postures")
}

// oneDesign wants exactly one argument, the design file.
func oneDesign(cmd *cobra.Command, args []string) error {
	if len(args) == 1 && args[0] != "" {
		return nil
	}
	what := "which design file? none was named"
	if len(args) > 1 {
		what = fmt.Sprintf("one design file at a time, not %d: %s", len(args), strings.Join(args, " "))
	}
	return &usage{what, "for example: " + firstExample(cmd)}
}

// noArguments refuses any argument.
func noArguments(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return &usage{fmt.Sprintf("%s takes no argument such as %q", cmd.CommandPath(), args[0]), "for example: " + firstExample(cmd)}
}

// firstExample returns the first line of a command's examples without its explanation.
func firstExample(cmd *cobra.Command) string {
	line, _, _ := strings.Cut(strings.TrimSpace(cmd.Example), "\n")
	call, _, _ := strings.Cut(line, "   ")
	return call
}
