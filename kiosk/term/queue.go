package term

import "sync"

// queue holds lines for the hand. The loop never waits for it.
type queue struct {
	ready chan struct{} // has one when there are lines
	mu    sync.Mutex
	lines []string
}

func newQueue() *queue { return &queue{ready: make(chan struct{}, 1)} }

func (q *queue) push(line string) {
	q.mu.Lock()
	q.lines = append(q.lines, line)
	q.mu.Unlock()
	select {
	case q.ready <- struct{}{}:
	default:
	}
}

// drain takes all lines, in their order.
func (q *queue) drain() []string {
	q.mu.Lock()
	defer q.mu.Unlock()
	lines := q.lines
	q.lines = nil
	return lines
}

// pulse counts what went into the loop and what came out of it, so that a test
// can wait until nothing is under way.
type pulse struct {
	mu                            sync.Mutex
	moved                         *sync.Cond
	keys, lines, answered, frames int
}

func newPulse() *pulse {
	p := &pulse{}
	p.moved = sync.NewCond(&p.mu)
	return p
}

func (p *pulse) change(f func()) {
	p.mu.Lock()
	defer p.mu.Unlock()
	f()
	p.moved.Broadcast()
}

func (p *pulse) key()  { p.change(func() { p.keys++ }) }
func (p *pulse) line() { p.change(func() { p.lines++ }) }

func (p *pulse) frame(answered int) {
	p.change(func() {
		p.frames++
		p.answered += answered
	})
}

// wait returns once so many keys were taken, every line is answered, and so
// many frames were shown.
func (p *pulse) wait(keys, frames int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for p.keys < keys || p.answered < p.lines || p.frames < frames {
		p.moved.Wait()
	}
}
