package spaceframe

// Status says how far an answer can be used.
type Status int

// The outcomes, of a whole Result or of one case.
const (
	Solved       Status = iota
	BadInput            // the model or a load is wrong; nothing was solved
	Mechanism           // something can move without resistance
	TipsOver            // feet lift until nothing holds the frame
	SlidesAway          // the floor's friction cannot hold the frame
	Unstable            // the load is above the buckling load
	NotConverged        // an iteration ended at its limit
)

var statusNames = [...]string{"solved", "bad input", "mechanism", "tips over", "slides away", "unstable", "not converged"}

// String returns the status in words.
func (s Status) String() string {
	if s < 0 || int(s) >= len(statusNames) {
		return "status?"
	}
	return statusNames[s]
}

// Finding is one thing that is wrong or worth knowing. Code is stable; Node, Member, Body and Case name what it
// is about, where that applies; Message is a sentence for a person.
type Finding struct {
	Code    string
	Case    string
	Node    string
	Member  string
	Body    string
	Message string
}

// The codes of findings.
const (
	CodeEmpty       = "empty-model"
	CodeName        = "name"
	CodeNumber      = "number"
	CodeUnknown     = "unknown-name"
	CodeZeroLength  = "zero-length"
	CodeSection     = "section"
	CodeAxis        = "axis"
	CodeUnconnected = "unconnected-node"
	CodeNoSupport   = "no-support"
	CodeSupport     = "support"
	CodeBody        = "rigid-body"
	CodeLoad        = "load"
	CodeMechanism   = "mechanism"
	CodeLoose       = "nearly-mechanism"
	CodeTips        = "tips-over"
	CodeSlides      = "slides-away"
	CodeUnstable    = "unstable"
	CodeIteration   = "not-converged"
	CodeResidual    = "residual"
)
