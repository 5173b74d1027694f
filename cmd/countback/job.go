package main

import "github.com/spf13/cobra"

func jobCommand() *cobra.Command {
	return group(&cobra.Command{
		Use: "job", Short: "Open and list jobs", GroupID: "work",
		Long:    "A job is one engine's way through the shop, with its own job card and its own codes.",
		Example: "  countback job open --plan my-engine.yaml --engine \"Sorrel, blue van\"\n  countback job list",
	}, jobOpenCommand(), jobListCommand())
}
