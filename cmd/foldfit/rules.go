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
		Use: "rules [RULE]", Short: "What is checked, why, and where each limit and figure comes from",
		Long: `rules lists every rule that a finding may name, with its usual severity, and the figures that foldfit works out beside them.
With the name of a rule it prints all about that one: why it is asked, how much under each profile, the source of the limit,
and how its figure comes about: formula, inputs, source, and how far to trust it. The same of a figure with its name.`,
		Example: `  foldfit rules
  foldfit rules bend-ratio
  foldfit rules free-shape`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return &usage{"one rule at a time, not " + strings.Join(args, " "), "for example: " + firstExample(cmd) + " bend-ratio"}
			}
			return nil
		},
	}
	list, figures := rule.Documented(), rule.Figures()
	var names []string
	for _, r := range list {
		names = append(names, r.ID)
	}
	for _, f := range figures {
		names = append(names, f.ID)
	}
	cmd.ValidArgsFunction = cobra.FixedCompletions(names, cobra.ShellCompDirectiveNoFileComp)
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		o := report.TextOptions{Colour: c.colour, Width: c.width}
		if len(args) == 0 {
			return deliver(c, "-", nil, func(w io.Writer) error { return report.Rules(w, list, figures, o) })
		}
		i := slices.Index(names, args[0])
		switch {
		case i < 0:
			return noRule(args[0], names)
		case i < len(list):
			return deliver(c, "-", nil, func(w io.Writer) error { return report.Rule(w, list[i], o) })
		}
		return deliver(c, "-", nil, func(w io.Writer) error { return report.Figure(w, figures[i-len(list)], o) })
	}
	return cmd
}

// noRule is the error for a name that neither a rule nor a figure has.
func noRule(name string, names []string) error {
	hint := "foldfit rules lists them"
	if near := designfile.Nearest(name, names); near != "" {
		hint = fmt.Sprintf("did you mean %q? %s", near, hint)
	}
	return &usage{fmt.Sprintf("there is no rule %q", name), hint}
}
