package model

// History is the job with everything it has been since it was opened. The
// zero History holds the zero Job. Undo and redo have no limit but memory, and
// jobs share what they did not change.
type History struct {
	now    Job
	past   []entry
	future []entry
}

// entry is a job that was, and the label of the edit that led away from it
// (past) or to it (future).
type entry struct {
	job   Job
	label string
	text  []byte // of a job's file that has not been read yet; nil when job is it
}

// read returns the job of the entry. It fails only for a text that Decode
// refuses.
func (e entry) read() (Job, bool) {
	if e.text == nil {
		return e.job, true
	}
	j, err := Decode(e.text)
	return j, err == nil
}

// NewHistory starts a history at j.
func NewHistory(j Job) *History { return &History{now: j} }

// Job returns the job as it is now.
func (h *History) Job() Job { return h.now }

// Do applies e. On an error nothing changes. A new edit forgets what could
// have been redone.
func (h *History) Do(e Edit) error {
	next, err := e.Apply(h.now)
	if err != nil {
		return err
	}
	h.past = append(h.past, entry{job: h.now, label: LabelOf(e, h.now, next)})
	h.future = nil
	h.now = next
	return nil
}

// Undo goes back one edit and says whether there was one.
func (h *History) Undo() bool {
	n := len(h.past)
	if n == 0 {
		return false
	}
	last := h.past[n-1]
	job, ok := last.read()
	if !ok {
		h.past = nil // nothing before it can be reached either
		return false
	}
	h.past = h.past[:n-1]
	h.future = append(h.future, entry{job: h.now, label: last.label})
	h.now = job
	return true
}

// Redo does again what was undone last and says whether there was anything.
func (h *History) Redo() bool {
	n := len(h.future)
	if n == 0 {
		return false
	}
	next := h.future[n-1]
	job, ok := next.read()
	if !ok {
		h.future = nil
		return false
	}
	h.future = h.future[:n-1]
	h.past = append(h.past, entry{job: h.now, label: next.label})
	h.now = job
	return true
}

// UndoLabel names the edit that Undo would take back, or is empty.
func (h *History) UndoLabel() string {
	if n := len(h.past); n > 0 {
		return h.past[n-1].label
	}
	return ""
}

// RedoLabel names the edit that Redo would do again, or is empty.
func (h *History) RedoLabel() string {
	if n := len(h.future); n > 0 {
		return h.future[n-1].label
	}
	return ""
}

// Depth returns how many edits can be undone.
func (h *History) Depth() int { return len(h.past) }
