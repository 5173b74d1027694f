// Package scope knows what it takes when "this must come off after all": from
// the present state of an engine to a state in which some condition holds, the
// least set of further steps, what they use up, void and undo, and the way
// back.
//
//	f := scope.New(p)                                      // once for a plan
//	a, err := f.Find(now, scope.PartOff(cam), scope.Options{})
//	a.Steps, a.Cost, a.Verdict()                           // "proved least"
//	a.Tally, a.Undone, a.Doubtful                          // what it costs, and what must be done again
//	a.Back.Steps, a.Back.Verdict()                         // how to be where we were
//	f.Rivals(now, a, scope.Options{})                      // the other ways
//	f.Compare(a, b)                                        // two of them side by side
//
// Early against late is the same question asked of two states: the engine as
// it is now, and a copy of it after the steps that would be done in between.
//
// It is pure: it knows a plan and a state, no event, no stock, no clock, and
// starts no goroutine. It refuses to know who decides, what is on the shelf,
// what is on order and what travels on a slip.
//
// # What is least
//
// Least is by single-use pieces used up, as Present.Tally counts them, then by
// minutes, then by steps. Among ways that are equal in all three, steps that
// take apart go before steps that put together, on the way back the other way
// round, and then the plan's order decides. Every step of the plan may be used, also one that puts together:
// a clamp may have to go on before a rod can come out.
//
// The way is a row of steps each of which Present.Can allows when its turn
// comes. A step may occur twice. Steps that only hold each other up are no
// way; a loop through an any-of is one where another way in exists, since the
// row then begins there.
//
// # How it is found
//
// With alternatives in conditions the question contains minimum hitting set
// and is NP-hard.
//
// First the question is asked as if nothing that a step brings about were ever
// undone. What is needed then is needed in earnest. Every condition becomes a
// formula without negations over literals (a thing is in one of some states),
// and the formulas of the steps that can matter become a web of all-of and
// any-of nodes. Cuts are sets of steps, or of pieces that several steps would
// use up, of each of which one at least is needed; they are found going down
// from the goal, each raises the lower bound (after LM-cut, Helmert and
// Domshlak 2009), and the cheapest actions that meet all known cuts are the
// answer as soon as they bring the goal up (Bonet and Castillo 2011; Haslum,
// Slaney and Thiébaux 2012). A first answer is bettered by swapping ways at one
// any-of after the other, and the best one known then guides the bound: cuts that
// it meets just once raise it by what it pays, all cuts are weighed against each
// other, and what no cheaper answer can hold is left out of the web, again and
// again, until nothing is left or the budget ends. What the goal asks for and a step of every way
// undoes must be brought about again: that makes the bound of the way back
// sharp.
//
// Then the steps are brought into an order in which they can be done. Where
// there is one the answer is proved. Where there is none, because a turn of
// the crank voids what another step needs, the way is repaired by looking
// again from where it stops, and bettered by a search over states with the
// cuts as its bound (A*).
//
// The budget is counted in looks at edges of the web, never in time: the same
// question gets the same answer everywhere. When it ends the answer says by
// how much at most it is above the least.
//
// Present.Can stays the only judge of what may be done: the formulas here only
// bound. That they ask for just what Can asks is held by a test over the plans
// that there are.
package scope
