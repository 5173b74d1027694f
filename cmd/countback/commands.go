package main

import "github.com/spf13/cobra"

// commands lists the commands in the order in which help shows them.
func commands() []*cobra.Command {
	return []*cobra.Command{
		coresCommand(), ownerCommand(),
		demoCommand(), kioskCommand(), scanCommand(), jobCommand(), codesCommand(), labelCommand(), printCommand(),
		nowCommand(), missingCommand(), boltCommand(), measureCommand(), findingsCommand(), runCommand(), handoverCommand(), auditCommand(), whereCommand(), historyCommand(), lossesCommand(),
		scopeCommand(), slipsCommand(), tightenCommand(), torqueCommand(),
		toolsCommand(), traysCommand(), batchesCommand(), ageingCommand(), guardCommand(),
		planCommand(), storeCommand(), serveCommand(), sentencesCommand(), versionCommand(), printersTopic(),
		buyCommand(), ordersCommand(),
	}
}
