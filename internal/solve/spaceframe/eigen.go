package spaceframe

func (s *System) addBuckling(r *CaseResult, st *state) {}
