package main

import (
	"errors"
	"fmt"
	"io"
	"runtime/debug"
	"strings"

	"foldfit/fold/designfile"
	"foldfit/fold/finding"
)

// Exit statuses.
const (
	exitGood    = 0
	exitFailed  = 1   // a finding of severity error (or --fail-on); for writers: there is no true shape
	exitUnusual = 2   // the input or the call could not be used
	exitDefect  = 3   // a defect of foldfit
	exitStopped = 130 // Ctrl-C: the results are what had been proven until then
)

// failed ends a run with status 1: the results are printed, there is nothing more to say.
type failed struct{}

func (failed) Error() string { return "the check found errors" }

// stopped ends a run that was interrupted: check prints the results so far, other commands write nothing.
type stopped struct{ written bool }

func (s stopped) Error() string {
	if s.written {
		return "stopped before the motion was wholly proven"
	}
	return "stopped before the motion was wholly proven; nothing was written"
}

// noShape says why there is nothing true to write.
type noShape struct{ reasons []finding.Finding }

func (e *noShape) Error() string {
	s := "nothing was written: the board has no true folded shape"
	for _, f := range e.reasons {
		s += fmt.Sprintf("\n%s:%d: %s: %s", f.Place.File, f.Place.Line, f.Rule, f.Message)
		if f.Hint != "" {
			s += "\n  way out: " + f.Hint
		}
	}
	return s
}

// usage is a call that makes no sense, with the way out.
type usage struct{ what, hint string }

func (e *usage) Error() string {
	if e.hint == "" {
		return e.what
	}
	return e.what + "\n  " + e.hint
}

// unusable holds all reasons why an input cannot be used, and the files that were read: the problems speak of those.
type unusable struct {
	name     string
	inputs   []input
	problems []finding.Problem
}

// where names the file that the problems lie in, the design where there are several.
func (e *unusable) where() string {
	for _, p := range e.problems {
		if p.Place.File != e.problems[0].Place.File {
			return e.name
		}
	}
	return e.problems[0].Place.File
}

// excerpt returns the line that a problem points at.
func (e *unusable) excerpt(p finding.Place) string {
	for _, in := range e.inputs {
		if in.path == p.File {
			return indent(designfile.Excerpt(in.data, p))
		}
	}
	return ""
}

func (e *unusable) Error() string {
	var s strings.Builder
	for _, p := range e.problems {
		fmt.Fprintf(&s, "%s:%d:%d: %s\n", p.Place.File, p.Place.Line, p.Place.Column, p.What)
		s.WriteString(e.excerpt(p.Place))
		if p.Hint != "" {
			fmt.Fprintf(&s, "  %s\n", p.Hint)
		}
	}
	things := "1 problem"
	if len(e.problems) != 1 {
		things = fmt.Sprintf("%d problems", len(e.problems))
	}
	fmt.Fprintf(&s, "%s in %s; nothing was written", things, e.where())
	return s.String()
}

// indent sets every line of s in by four blanks and ends it with a line break.
func indent(s string) string {
	s = strings.TrimRight(s, "\n")
	if s == "" {
		return ""
	}
	return "    " + strings.ReplaceAll(s, "\n", "\n    ") + "\n"
}

// defect is a failure that no input may cause.
type defect struct{ cause error }

func (e *defect) Error() string { return e.cause.Error() }

// finish prints what ended a run, if it needs words, and returns the exit status.
func finish(err error, args []string, w io.Writer) int {
	var bug *defect
	var shape *noShape
	var input *unusable
	var early stopped
	switch {
	case err == nil:
		return exitGood
	case errors.Is(err, failed{}):
		return exitFailed
	case errors.As(err, &early):
		fmt.Fprintf(w, "foldfit: %v\n", err)
		return exitStopped
	case errors.As(err, &bug):
		printDefect(w, args, bug.Error(), "")
		return exitDefect
	case errors.As(err, &shape):
		fmt.Fprintf(w, "foldfit: %v\n", err)
		return exitFailed
	case errors.As(err, &input):
		fmt.Fprintln(w, err)
		return exitUnusual
	}
	fmt.Fprintf(w, "foldfit: %v\n", err)
	return exitUnusual
}

// printDefect asks to report a defect.
func printDefect(w io.Writer, args []string, what, where string) {
	fmt.Fprintf(w, "foldfit: this is a defect of foldfit, not of your input: %s\n", what)
	fmt.Fprintf(w, "  Please report it with the design file and these lines. No file was changed half-way.\n")
	fmt.Fprintf(w, "  foldfit %s, called as: foldfit %s\n%s", version, strings.Join(args, " "), where)
}

// trail returns the innermost places of foldfit's own code on a panic's stack.
func trail() string {
	var out strings.Builder
	lines := strings.Split(string(debug.Stack()), "\n")
	found := 0
	for i := 0; i+1 < len(lines) && found < 4; i++ {
		call, _, _ := strings.Cut(lines[i], "(0x")
		if !strings.HasPrefix(call, "foldfit/") && !strings.HasPrefix(call, "main.") || strings.Contains(call, "trail") || strings.Contains(call, "execute") {
			continue
		}
		place, _, _ := strings.Cut(strings.TrimSpace(lines[i+1]), " ")
		fmt.Fprintf(&out, "  at %s %s\n", call, place[strings.LastIndex(place, "/")+1:])
		found++
	}
	return out.String()
}
