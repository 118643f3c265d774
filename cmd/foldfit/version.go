package main

import (
	"fmt"
	"io"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// version of foldfit; it stands in every file that is written.
const version = "0.1.0"

func newVersion(c console) *cobra.Command {
	return &cobra.Command{
		Use: "version", Short: "Version of foldfit and how it was built",
		Example: "  foldfit version",
		Args:    noArguments,
		RunE: func(*cobra.Command, []string) error {
			return deliver(c, "-", nil, func(w io.Writer) error {
				_, err := fmt.Fprintf(w, "foldfit %s%s, %s %s/%s\n", version, revision(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
				return err
			})
		},
	}
}

// revision returns the commit that foldfit was built from, where the build knows it.
func revision() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return ""
	}
	out := ""
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision" && len(s.Value) >= 12:
			out = ", commit " + s.Value[:12]
		case s.Key == "vcs.modified" && s.Value == "true":
			out += " with changes"
		}
	}
	return out
}
