// Package plan knows plan files: what an engine of one family is made of, and
// the conditions under which it comes off and goes on.
package plan
