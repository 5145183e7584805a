package panel

// Says is what a paragraph says.
func (p *para) Says() string { return p.text }
