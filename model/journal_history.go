package model

import (
	"bytes"
	"fmt"
)

// History returns the job as it was last with all that can be undone and
// redone. The other states are read when they are reached: a thousand of them
// would take seconds. saved is how many edits lie between the first state and
// the one that is in the file, or -1 if that can not be reached. An error says
// why the job can not be read.
func (j *Journal) History() (h *History, saved int, err error) {
	now, err := Decode(j.Text())
	if err != nil {
		return nil, -1, fmt.Errorf("the job as it was last: %w", err)
	}
	h = NewHistory(now)
	for i, s := range j.States[:j.At] {
		h.past = append(h.past, entry{text: s.Text, label: j.States[i+1].Label})
	}
	for i := len(j.States) - 1; i > j.At; i-- { // the nearest comes last
		h.future = append(h.future, entry{text: j.States[i].Text, label: j.States[i].Label})
	}
	return h, j.SavedAt, nil
}

// Same says whether two texts of job files hold the same job. Texts that can
// not be read are the same only byte for byte.
func Same(a, b []byte) bool {
	if bytes.Equal(a, b) {
		return true
	}
	plain := func(text []byte) []byte {
		j, err := Decode(text)
		if err != nil {
			return nil
		}
		out, err := Encode(j)
		if err != nil {
			return nil
		}
		return out
	}
	p := plain(a)
	return p != nil && bytes.Equal(p, plain(b))
}
