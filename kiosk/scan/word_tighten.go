package scan

// The verbs about tightening.
const (
	Restart    Word = "RESTART"
	AcceptWord Word = "ACCEPT"
	StageNo    Word = "STAGE NUMBER"
	StageRead  Word = "STAGE READ"
	Edition    Word = "EDITION"
	TorqueAsk  Word = "TORQUE?"
	TorqueWord Word = "TORQUE CHOSEN"
)

// What is on the threads and under the head.
const (
	DryThreads   Word = "DRY THREADS"
	OiledThreads Word = "OILED THREADS"
	AntiSeize    Word = "ANTI-SEIZE"
)
