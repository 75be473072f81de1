package spaceframe

import "fmt"

// Solve checks a model and its cases and solves them. Bad input gives the status BadInput and a finding for
// everything that is wrong; it never panics for a bad model.
func Solve(model Model, cases []Case, options Options) Result {
	s, findings := Prepare(model, options)
	if s == nil {
		return Result{Status: BadInput, Findings: findings}
	}
	return s.Solve(cases)
}

// Solve solves the cases. Cases that share the state of their floors share one factored matrix; in second order
// each case has its own.
func (s *System) Solve(cases []Case) Result {
	if bad := s.checkCases(cases); len(bad) > 0 {
		return Result{Status: BadInput, Findings: bad}
	}
	if bad := s.looseMembers(); len(bad) > 0 {
		return Result{Status: Mechanism, Findings: bad}
	}
	r := Result{Cases: make([]CaseResult, len(cases))}
	made := map[string]*factored{}
	for i, c := range cases {
		r.Cases[i] = s.solveCase(c, made)
		if r.Status == Solved {
			r.Status = r.Cases[i].Status
		}
	}
	return r
}

// residualLimit is the share of the largest force that may be left over at a node before the answer is marked:
// rounding leaves about 1e-12, and 1e-6 is still far below any figure of the trade.
const residualLimit = 1e-6

// unusable is the share beyond which the answer is withheld, as where numbers are too large to be worked with.
const unusable = 1e-2

func (s *System) solveCase(c Case, made map[string]*factored) CaseResult {
	r := CaseResult{Name: c.Name, system: s, secondOrder: s.options.SecondOrder}
	l := s.load(c)
	work := s
	if s.options.SecondOrder {
		work = s.Clone()
		made = nil
	}
	st, status, findings := work.settle(l, made)
	for _, f := range findings {
		f.Case = c.Name
		r.Findings = append(r.Findings, f)
	}
	if r.Status = status; status != Solved {
		return r
	}
	work.collect(&r, l, st)
	if !(r.Residual <= unusable) {
		r.Status = NotConverged
	}
	if !(r.Residual <= residualLimit) {
		r.Findings = append(r.Findings, Finding{Code: CodeResidual, Case: c.Name,
			Message: fmt.Sprintf("forces at the nodes balance only to %.1g of the largest; stiffnesses in the frame differ too much", r.Residual)})
	}
	if s.options.Buckling > 0 {
		work.addBuckling(&r, st)
	}
	return r
}

// looseMembers reports members whose own springs leave them free.
func (s *System) looseMembers() (found []Finding) {
	for i := range s.elements {
		e := &s.elements[i]
		name := s.model.Members[e.member].Name
		for _, d := range e.loose {
			what := fmt.Sprintf("member %q can turn freely about its own axis: both ends are released in rx", name)
			if d%6 != int(RX) {
				what = fmt.Sprintf("member %q is held by nothing in its local %s: too many ends are released", name, DOF(d%6))
			}
			found = append(found, Finding{Code: CodeMechanism, Member: name, Message: what})
		}
	}
	return found
}
