// Package plans holds the invented plans that the demo and the tests use.
package plans

import _ "embed"

// Sorrel is the plan of the invented Sorrel I4-20. Nobody may build from it.
//
//go:embed sorrel-i4-20.yaml
var Sorrel string
