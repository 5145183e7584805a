package model

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"slices"
	"time"
)

// JournalWriter appends to a journal. Each call writes its record at once; an
// error means that the record may be there in part, and that it is not counted.
type JournalWriter struct {
	w      io.Writer
	number uint64
	size   int64
	text   []byte
}

// NewJournal begins a journal on w with a job and its history: of j it takes
// File, Program, States, At, SavedAt, Unsaved and Last. The oldest states are
// left out until their texts have at most most bytes; the one last seen is
// always kept.
func NewJournal(w io.Writer, j Journal, most int) (*JournalWriter, error) {
	j.States = slices.Clone(j.States)
	j.bound(most)
	head := binary.LittleEndian.AppendUint16([]byte(journalMagic), JournalFormat)
	all := bytes.NewBuffer(head) // written at once: there is one error to care for
	out := &JournalWriter{w: all}
	b := out.body(beginRecord, j.Last)
	b = binary.AppendUvarint(b, uint64(max(j.Unsaved, 0)))
	b = binary.AppendUvarint(b, uint64(j.SavedAt+1))
	b = append(b, j.File.Sum[:]...)
	b = appendText(b, cutText(j.File.Path))
	b = appendText(b, cutText(j.Program))
	b = appendText(b, cutText(j.States[0].Label))
	b = append(b, j.States[0].Text...)
	if err := out.put(record(b), j.States[0].Text); err != nil {
		return nil, err
	}
	for _, s := range j.States[1:] {
		if err := out.change(pastRecord, j.Last, s.Label, s.Text); err != nil {
			return nil, err
		}
	}
	if j.At < len(j.States)-1 {
		b := binary.AppendUvarint(out.body(seenRecord, j.Last), uint64(j.At))
		if err := out.put(record(b), j.States[j.At].Text); err != nil {
			return nil, err
		}
	}
	out.size = int64(all.Len())
	if n, err := w.Write(all.Bytes()); err != nil {
		return nil, err
	} else if n < all.Len() {
		return nil, io.ErrShortWrite
	}
	out.w = w
	return out, nil
}

// Size returns how long the journal is up to the last record that was written
// whole: what lies after it has to be cut off before the next is written.
func (j *JournalWriter) Size() int64 { return j.size }

// Text returns the text of the job as it was written last. Do not change it.
func (j *JournalWriter) Text() []byte { return j.text }

// To has the next records written to w, which continues the journal.
func (j *JournalWriter) To(w io.Writer) { j.w = w }

// Edit writes that an edit led to the job with that text. The writer keeps the
// text; do not change it.
func (j *JournalWriter) Edit(at time.Time, label string, text []byte) error {
	return j.change(editRecord, at, label, text)
}

// Undo writes that the last edit was taken back.
func (j *JournalWriter) Undo(at time.Time, label string, text []byte) error {
	return j.change(undoRecord, at, label, text)
}

// Redo writes that the edit taken back last was done again.
func (j *JournalWriter) Redo(at time.Time, label string, text []byte) error {
	return j.change(redoRecord, at, label, text)
}

func (j *JournalWriter) change(kind recordKind, at time.Time, label string, text []byte) error {
	b := j.body(kind, at)
	b = appendText(b, cutText(label))
	b = append(b, delta(j.text, text)...)
	b = binary.LittleEndian.AppendUint32(b, textSum(text))
	return j.put(record(b), text)
}

// Saved writes that the job as it is lies in its file.
func (j *JournalWriter) Saved(at time.Time, file JournalFile) error {
	b := j.body(savedRecord, at)
	b = append(b, file.Sum[:]...)
	b = appendText(b, cutText(file.Path))
	return j.put(record(b), j.text)
}

func (j *JournalWriter) body(kind recordKind, at time.Time) []byte {
	b := binary.AppendUvarint(nil, j.number+1)
	return appendTime(append(b, byte(kind)), at)
}

func (j *JournalWriter) put(b, text []byte) error {
	if len(text) > MaxFileBytes {
		return fmt.Errorf("the job takes %d MB and at most %d MB are kept", len(text)>>20, MaxFileBytes>>20)
	}
	n, err := j.w.Write(b)
	if err == nil && n < len(b) {
		err = io.ErrShortWrite
	}
	if err != nil {
		return err
	}
	j.number++
	j.size += int64(len(b))
	j.text = text
	return nil
}

// cutText bounds a label or path, which a reader refuses when longer.
func cutText(s string) string { return s[:min(len(s), MaxText)] }
