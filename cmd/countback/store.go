package main

import "github.com/spf13/cobra"

func storeCommand() *cobra.Command {
	return group(&cobra.Command{
		Use: "store", Short: "Check, back up, restore, export and move the store", GroupID: "keep",
		Long: `The store holds every fact that was ever recorded, and nothing else is truth:
everything shown is computed from it. Beside the store lie a protected copy and
a high-water mark, so that a loss is noticed and can be mended.`,
		Example: "  countback store check\n  countback store backup /mnt/stick/countback",
	}, storeCheckCommand(), storeBackupCommand(), storeRestoreCommand(), storeExportCommand(),
		storePasswordsCommand(), storeNodesCommand(), storePushCommand(), storePullCommand())
}
