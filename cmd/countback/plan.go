package main

import (
	"github.com/spf13/cobra"
)

func planCommand() *cobra.Command {
	return group(&cobra.Command{
		Use: "plan", Short: "Check, show, save, import and export plan files", GroupID: "keep",
		Long: `A plan says what an engine of one family is made of, and the conditions under
which it comes off and goes on. It is a YAML file that people write.`,
		Example: "  countback plan check my-engine.yaml\n  countback plan show my-engine.yaml",
	}, planCheckCommand(), planShowCommand(), planSaveCommand(), planImportCommand(), planExportCommand())
}
