// Package bench is one terminal at work: it joins a screen to the rules and to
// the journal.
//
// A scan goes to the screen; what the screen wants stored goes to the rules of
// its job; what they answer is numbered, encoded and appended; and only when
// the journal says that it is durable is it folded, told in a sentence, and
// beeped. A tell is appended as recorded: nothing but the terminal's own last
// message is expected, so that it cannot be refused for what others did. An ask
// is appended as checked: if the job has changed since it was decided, it is
// decided again on what changed.
//
// When the answer of the journal is lost, no scan is taken until it is known
// whether the fact is stored. When the journal cannot be reached, facts go into
// the outbox, which is durable too, and are sent in their order as soon as it
// can be.
//
// The number n of a fact is given once, before the first try; after a restart
// it goes on from the terminal's own last message in the journal and in the
// outbox. The time At is the terminal's clock with its offset to the hub, and
// never less than the greatest seen plus one, so that a fact stands after all
// that its terminal knew (a hybrid logical clock, Kulkarni et al. 2014).
//
// The package keeps the jobs that were opened here in memory, and the register
// of labels and people, folded from all facts of the shop. It knows no
// terminal program, no printer and no server.
package bench
