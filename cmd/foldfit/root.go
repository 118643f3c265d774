package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"foldfit/fold/designfile"
)

// execute runs one command line and returns the exit status. A panic below is a defect: it ends in a short message and
// status 3.
func execute(args []string, c console) (code int) {
	defer func() {
		if cause := recover(); cause != nil {
			printDefect(c.err, args, fmt.Sprint(cause), trail())
			code = exitDefect
		}
	}()
	root := newRoot(c)
	root.SetArgs(args)
	return finish(root.Execute(), args, c.err)
}

// newRoot returns the command tree.
func newRoot(c console) *cobra.Command {
	root := &cobra.Command{
		Use:   "foldfit",
		Short: "Does a rigid-flex board fold, and does it fit?",
		Long: `foldfit folds a rigid-flex board from one design file and answers two questions before anyone pays for it:
does it fold, and does it fit its housing?`,
		Example: `  foldfit new -o board.yaml        a commented starter design
  foldfit check board.yaml         findings and gaps on the terminal
  foldfit build board.yaml         everything for the bench, the mechanical engineer and the fabricator`,
		SilenceUsage: true, SilenceErrors: true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownCommand(cmd, args[0])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetIn(c.in)
	root.SetOut(c.out)
	root.SetErr(c.err)
	root.SetFlagErrorFunc(flagError)
	root.SetHelpFunc(printHelp)
	root.AddCommand(newNew(c), newBuild(c), newCheck(c), newFold(c), newFormer(c), newPattern(c), newSheet(c), newBend(c), newCompare(c), newRules(c), newSchema(c), newVersion(c))
	root.SetHelpCommand(newHelp())
	addCompletion(root)
	return root
}

// addCompletion adds the library's own completion command, with our words and no silence about a wrong shell.
func addCompletion(root *cobra.Command) {
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		if c.Name() != "completion" {
			continue
		}
		c.Short = "The completion script for a shell: bash, zsh, fish or powershell"
		c.Long = "completion prints a script that teaches a shell to complete foldfit's commands, flags and file names."
		c.Example = "  foldfit completion bash > ~/.local/share/bash-completion/completions/foldfit"
		c.Args = root.Args
		c.RunE = root.RunE
	}
}

// newHelp returns the command that prints another one's help.
func newHelp() *cobra.Command {
	return &cobra.Command{
		Use: "help [COMMAND]", Short: "What a command does, with its flags and an example",
		Example: "  foldfit help fold",
		RunE: func(cmd *cobra.Command, args []string) error {
			found, rest, err := cmd.Root().Find(args)
			if err != nil || len(rest) > 0 {
				return unknownCommand(cmd.Root(), strings.Join(args, " "))
			}
			return found.Help()
		},
	}
}

// Commands and flags that are agreed on and that nothing does yet.
var (
	laterCommands = []string{"picture", "report", "view", "import", "handover"}
	laterFlags    = map[string][]string{}
)

// unknownCommand says so, with the nearest command.
func unknownCommand(root *cobra.Command, name string) error {
	if slices.Contains(laterCommands, name) {
		return &usage{fmt.Sprintf("the command %s is not supported yet", name), root.CommandPath() + " --help lists the commands"}
	}
	var names []string
	for _, c := range root.Commands() {
		names = append(names, c.Name())
	}
	hint := root.CommandPath() + " --help lists the commands"
	if near := designfile.Nearest(name, names); near != "" {
		hint = fmt.Sprintf("did you mean %q? %s", near, hint)
	}
	return &usage{fmt.Sprintf("there is no command %q", name), hint}
}

// flagError puts the flag library's errors into our words.
func flagError(cmd *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var invalid *pflag.InvalidValueError
	help := cmd.CommandPath() + " --help lists the flags"
	switch {
	case errors.As(err, &unknown):
		name := unknown.GetSpecifiedName()
		if unknown.GetSpecifiedShortnames() != "" {
			return &usage{fmt.Sprintf("there is no flag -%s", name), help}
		}
		if slices.Contains(laterFlags[cmd.Name()], name) {
			return &usage{fmt.Sprintf("the flag --%s is not supported yet", name), help}
		}
		var names []string
		cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		if near := designfile.Nearest(name, names); near != "" {
			help = fmt.Sprintf("did you mean --%s? %s", near, help)
		}
		return &usage{fmt.Sprintf("there is no flag --%s", name), help}
	case errors.As(err, &invalid):
		return &usage{fmt.Sprintf("--%s %s: %v", invalid.GetFlag().Name, invalid.GetValue(), errors.Unwrap(invalid)), help}
	}
	return &usage{err.Error(), help}
}

// printHelp writes a command's help page.
func printHelp(cmd *cobra.Command, _ []string) {
	w := cmd.OutOrStdout()
	about := cmd.Long
	if about == "" {
		about = cmd.Short + "."
	}
	line := cmd.UseLine()
	if cmd.HasAvailableSubCommands() {
		line = cmd.CommandPath() + " COMMAND"
	}
	fmt.Fprintf(w, "%s\n\nUsage:\n  %s\n", about, line)
	if cmd.HasAvailableSubCommands() {
		fmt.Fprint(w, "\nCommands:\n")
		for _, c := range cmd.Commands() {
			if c.IsAvailableCommand() {
				fmt.Fprintf(w, "  %-11s %s\n", c.Name(), c.Short)
			}
		}
	}
	if cmd.HasExample() {
		fmt.Fprintf(w, "\nExamples:\n%s\n", strings.TrimRight(cmd.Example, "\n"))
	}
	if cmd.HasAvailableLocalFlags() {
		flags := strings.ReplaceAll(cmd.LocalFlags().FlagUsages(), "[=true|false]", "             ")
		fmt.Fprintf(w, "\nFlags:\n%s", flags)
	}
}
