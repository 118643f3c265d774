package main

import (
	"io"

	"github.com/spf13/cobra"

	"foldfit/fold/designfile"
)

func newSchema(c console) *cobra.Command {
	return &cobra.Command{
		Use: "schema", Short: "The design file's JSON Schema, for editors",
		Long: `schema prints the JSON Schema of the design file. Editors with a YAML or JSON language server use it to complete keys and to
mark mistakes while you type.`,
		Example: "  foldfit schema > foldfit.schema.json",
		Args:    noArguments,
		RunE: func(*cobra.Command, []string) error {
			return deliver(c, "-", nil, func(w io.Writer) error {
				_, err := w.Write(designfile.Schema())
				return err
			})
		},
	}
}
