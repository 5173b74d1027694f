package panel

import "countback/kiosk/scan"

// The questions about loose pieces, trays and tools are answered by a list.
func init() {
	for _, w := range []scan.Word{scan.Whose, scan.ToolsWord, scan.TraysWord, scan.BatchesWord, scan.AgeingWord} {
		byWord[w] = List
	}
}
