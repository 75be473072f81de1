package testlog

// Report is what a log of tests says.
type Report struct {
	Tests       int          `json:"tests"`
	Groups      []Summary    `json:"groups"`
	Comparisons []Comparison `json:"comparisons"`
	Calibration Calibration  `json:"calibration"`
	Notes       []string     `json:"notes,omitempty"` // about the log as a whole
}

// Analyse works a log out: groups, comparisons of groups, and multipliers where loads were predicted. No test
// at all is no error: the report says so.
func Analyse(tests []Test) Report {
	r := Report{Tests: len(tests), Groups: []Summary{}, Comparisons: []Comparison{}}
	k, b := factors{}, newBook()
	for _, g := range gather(tests) {
		r.Groups = append(r.Groups, summarize(g, k, b))
	}
	comparisons, notes := compare(r.Groups)
	r.Comparisons = append(r.Comparisons, comparisons...)
	r.Calibration = calibrate(tests, b)
	quantities := map[Quantity]int{}
	for _, g := range r.Groups {
		quantities[g.Quantity]++
	}
	switch {
	case len(tests) == 0:
		r.Notes = append(r.Notes, "There is no test in the log.")
	case len(quantities) == 2:
		r.Notes = append(r.Notes, "Groups with a lever are judged by the moment, others by the load; one cannot be compared with the other.")
	}
	r.Notes = append(r.Notes, notes...)
	return r
}
