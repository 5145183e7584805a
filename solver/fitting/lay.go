package fitting

// Lay returns the order of another candidate of a result, in the problem that
// was solved: its tasks, joints, evenings and costs, and itself as the only
// candidate. What explains a choice is left out. It takes some hundredths of a
// second.
func Lay(p Problem, c Candidate) Result {
	s := newSearch(&p)
	r := Result{Weights: s.weights}
	if s.broken != "" {
		r.Status, r.Why = NoShape, s.broken
		return r
	}
	r.Status, r.Candidates = Solved, []Candidate{c}
	r.Left, r.Right, r.Back, r.Cost = c.Left, c.Right, c.Back, c.Cost
	s.lay(&r, &p.Wishes, c.choice)
	s.plan(&r, &p.Wishes)
	s.unshaped(&r)
	return r
}
