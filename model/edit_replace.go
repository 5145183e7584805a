package model

// Replace puts another job in place of this one, such as an earlier version of
// its file. It is an edit so that it can be undone.
type Replace struct {
	With Job
	Name string // what it does, for the undo menu
}

// Apply implements Edit.
func (e Replace) Apply(j Job) (Job, error) { return kept(j, e.With) }

// Label implements Edit.
func (e Replace) Label() string { return e.Name }
