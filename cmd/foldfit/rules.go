package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"foldfit/export/report"
	"foldfit/fold/designfile"
	"foldfit/fold/rule"
)

func newRules(c console) *cobra.Command {
	cmd := &cobra.Command{
		Use: "rules [RULE]", Short: "What is checked, why, and where each limit comes from",
		Long: `rules lists every rule that a finding may name, with its usual severity. With the name of a rule it prints all about that
one: why it is asked, how much under each profile, the source of the limit and how far to trust it.`,
		Example: `  foldfit rules
  foldfit rules bend-ratio`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return &usage{"one rule at a time, not " + strings.Join(args, " "), "for example: " + firstExample(cmd) + " bend-ratio"}
			}
			return nil
		},
	}
	var names []string
	for _, r := range rule.Documented() {
		names = append(names, r.ID)
	}
	cmd.ValidArgsFunction = cobra.FixedCompletions(names, cobra.ShellCompDirectiveNoFileComp)
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		o := report.TextOptions{Colour: c.colour, Width: c.width}
		if len(args) == 0 {
			return deliver(c, "-", nil, func(w io.Writer) error { return report.Rules(w, rule.Documented(), o) })
		}
		i := slices.Index(names, args[0])
		if i < 0 {
			hint := "foldfit rules lists them"
			if near := designfile.Nearest(args[0], names); near != "" {
				hint = fmt.Sprintf("did you mean %q? %s", near, hint)
			}
			return &usage{fmt.Sprintf("there is no rule %q", args[0]), hint}
		}
		return deliver(c, "-", nil, func(w io.Writer) error { return report.Rule(w, rule.Documented()[i], o) })
	}
	return cmd
}
