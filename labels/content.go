package labels

import (
	"countback/labels/code"
	"countback/labels/page"
)

// Label is one of the labels of this package.
type Label interface {
	// content is what stands on the label; an error says what it lacks.
	content() (content, error)
}

// content is what stands on a label, the most important first.
type content struct {
	code    code.Code
	kind    string // in the head: BAG
	stamps  []string
	head    string // behind it: the job
	corner  string // right in the head: 2 of 3
	rows    []row
	foot    []row // beside the symbols where there is room, else behind the rows
	pattern Pattern
	sizes   []Line // what the shapes of the pattern stand for
}

// row is one row of text.
type row struct {
	shape  page.Shape
	text   string
	right  string  // at the right end, or on a line of its own
	capMm  float64 // height of capitals where there is room
	weight page.Weight
	lines  int  // how many lines the text may take; 0: one
	blank  bool // a line to write on behind the text
	keep   bool // goes last
	list   bool // one of a list: all of them are written in one size
}
