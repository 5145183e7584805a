package model

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"slices"
	"time"
)

// Journal is what a journal says: the job as it was last, and its history.
type Journal struct {
	File    JournalFile
	Program string // that began it
	// States are those that undo and redo can reach, the oldest first, and At is
	// the one last seen. There is always at least one.
	States []JournalState
	At     int
	// SavedAt is the index of the state that lies in the file, or -1.
	SavedAt int
	// Unsaved counts the edits, undos and redos since the file was last read or
	// written, and Last is when the last record was written.
	Unsaved int
	Last    time.Time
	// Good is how many bytes were whole. Torn says what comes after them; it is
	// empty when nothing does.
	Good int64
	Torn string

	number uint64
}

// Text returns the text of the job as it was last.
func (j *Journal) Text() []byte { return j.States[j.At].Text }

// Continue returns a writer that appends to the journal after its Good bytes.
func (j *Journal) Continue(w io.Writer) *JournalWriter {
	return &JournalWriter{w: w, number: j.number, size: j.Good, text: j.Text()}
}

// ReadJournal reads a journal up to the first record that is not whole. An
// error is a *JournalError or one of r: without a first record there is no job.
func ReadJournal(r io.Reader) (*Journal, error) {
	in := bufio.NewReaderSize(io.LimitReader(r, MaxJournalBytes), 1<<16)
	head := make([]byte, len(journalMagic)+2)
	if _, err := io.ReadFull(in, head); err != nil {
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return nil, &JournalError{Problem: "it is cut short before the first job"}
		}
		return nil, err
	}
	if string(head[:len(journalMagic)]) != journalMagic {
		return nil, &JournalError{Problem: "it is no journal"}
	}
	if v := binary.LittleEndian.Uint16(head[len(journalMagic):]); v != JournalFormat {
		return nil, &JournalError{
			Problem: fmt.Sprintf("it has format %d, and this program reads format %d", v, JournalFormat),
			Newer:   v > JournalFormat,
		}
	}
	j := &Journal{SavedAt: -1, Good: int64(len(head))}
	for {
		body, err := readRecord(in)
		if err == nil && body == nil {
			break // the end, and it is clean
		}
		if err == nil {
			err = j.take(body)
		}
		var torn tornError
		switch {
		case err == nil:
			j.Good += int64(8 + len(body))
			continue
		case !errors.As(err, &torn):
			return nil, err
		}
		j.Torn = string(torn)
		break
	}
	if j.SavedAt >= len(j.States) {
		j.SavedAt = -1 // the history that a rewritten journal begins with was cut short
	}
	if len(j.States) == 0 {
		return nil, &JournalError{Problem: "its first job can not be read: " + j.Torn}
	}
	return j, nil
}

// tornError says why reading stops. It is no fault of the reader.
type tornError string

func (e tornError) Error() string { return string(e) }

// readRecord returns the next body, or nil at the end.
func readRecord(in *bufio.Reader) ([]byte, error) {
	var frame [8]byte
	n, err := io.ReadFull(in, frame[:])
	switch {
	case n == 0 && errors.Is(err, io.EOF):
		return nil, nil
	case errors.Is(err, io.ErrUnexpectedEOF):
		return nil, tornError("it ends within a record")
	case err != nil:
		return nil, err
	}
	length := binary.LittleEndian.Uint32(frame[:])
	if length == 0 || length > maxRecord {
		return nil, tornError(fmt.Sprintf("a record says that it has %d bytes", length))
	}
	// ReadAll grows as it reads: a length that lies takes no memory
	body, err := io.ReadAll(io.LimitReader(in, int64(length)))
	if err != nil {
		return nil, err
	}
	if len(body) < int(length) {
		return nil, tornError("it ends within a record")
	}
	if frameSum(frame[:4], body) != binary.LittleEndian.Uint32(frame[4:]) {
		return nil, tornError("the sum of a record is wrong")
	}
	return body, nil
}

// take applies a record whose frame is right. On an error j is as it was.
func (j *Journal) take(body []byte) error {
	f := fields{left: body}
	number, kind, at := f.number(), recordKind(f.byte()), time.Unix(f.signed(), 0).UTC()
	if f.bad || number != j.number+1 {
		return tornError("a record has the wrong number")
	}
	if (kind == beginRecord) != (len(j.States) == 0) {
		return tornError("the journal begins twice, or does not")
	}
	if err := j.apply(kind, &f); err != nil {
		return err
	}
	j.number = number
	j.Last = at
	return nil
}

func (j *Journal) apply(kind recordKind, f *fields) error {
	switch kind {
	case beginRecord:
		unsaved, saved := f.number(), f.number()
		file := JournalFile{Sum: f.sum()}
		file.Path = f.text()
		program, label := f.text(), f.text()
		if f.bad || unsaved > MaxJournalBytes || saved > maxKeptStates || len(f.left) > MaxFileBytes {
			return tornError("its first record is damaged")
		}
		j.File, j.Program, j.Unsaved = file, program, int(unsaved)
		j.States = []JournalState{{label, f.left}}
		j.SavedAt = int(saved) - 1
		return nil
	case seenRecord:
		at := f.number()
		if f.bad || len(f.left) > 0 || at >= uint64(len(j.States)) {
			return tornError("a record is damaged")
		}
		j.At = int(at)
		return nil
	case pastRecord, editRecord, undoRecord, redoRecord:
		label := f.text()
		sum := f.end()
		if f.bad {
			return tornError("a record is damaged")
		}
		text, err := patch(j.Text(), f.left, MaxFileBytes)
		if err != nil || textSum(text) != sum {
			return tornError("a change does not fit the job before it")
		}
		if kind == pastRecord {
			j.States = append(j.States[:j.At+1], JournalState{label, text})
			j.At++
		} else {
			j.Unsaved++
			j.move(kind, JournalState{label, text})
		}
		j.bound(maxKeptText)
		return nil
	case savedRecord:
		file := JournalFile{Sum: f.sum()}
		file.Path = f.text()
		if f.bad || len(f.left) > 0 {
			return tornError("a record is damaged")
		}
		j.File, j.SavedAt, j.Unsaved = file, j.At, 0
		return nil
	}
	return tornError(fmt.Sprintf("a record is of kind %d, which is not known", kind))
}

// move makes s the state that is seen. The text that the record gives is
// believed over the one remembered from before, which may have been let go.
func (j *Journal) move(kind recordKind, s JournalState) {
	switch {
	case kind == undoRecord && j.At > 0:
		j.At--
		j.believe(s.Text)
	case kind == redoRecord && j.At < len(j.States)-1:
		j.At++
		j.believe(s.Text)
	case kind == undoRecord: // to a state from before those kept: what lies ahead stays
		j.States = slices.Insert(j.States, 0, JournalState{Text: s.Text})
		if j.SavedAt >= 0 {
			j.SavedAt++
		}
	default:
		if j.SavedAt > j.At {
			j.SavedAt = -1 // the saved state lay ahead and is now forgotten
		}
		j.States = append(j.States[:j.At+1], s)
		j.At++
	}
}

func (j *Journal) believe(text []byte) {
	if s := &j.States[j.At]; !bytes.Equal(s.Text, text) {
		s.Text = text
		if j.SavedAt == j.At {
			j.SavedAt = -1
		}
	}
}

// bound lets the oldest states go, and then those farthest ahead, until the
// texts have at most most bytes; but never the one that is seen.
func (j *Journal) bound(most int) {
	total := 0
	for _, s := range j.States {
		total += len(s.Text)
	}
	for len(j.States) > 1 && (total > most || len(j.States) > maxKeptStates) {
		gone := len(j.States) - 1
		if j.At > 0 {
			gone = 0
		}
		total -= len(j.States[gone].Text)
		j.States = slices.Delete(j.States, gone, gone+1)
		switch {
		case j.SavedAt == gone:
			j.SavedAt = -1
		case j.SavedAt > gone:
			j.SavedAt--
		}
		if gone == 0 {
			j.At--
		}
	}
}

// fields reads a body from its front. After a fault all that it returns is zero
// and bad is set.
type fields struct {
	left []byte
	bad  bool
}

func (f *fields) take(n int) []byte {
	if f.bad || n < 0 || n > len(f.left) {
		f.bad = true
		return nil
	}
	out := f.left[:n]
	f.left = f.left[n:]
	return out
}

func (f *fields) number() uint64 {
	v, n := binary.Uvarint(f.left)
	if n <= 0 {
		f.bad = true
		return 0
	}
	f.take(n)
	return v
}

// signed reads a number that binary.AppendVarint wrote.
func (f *fields) signed() int64 {
	v := f.number()
	return int64(v>>1) ^ -int64(v&1)
}

func (f *fields) byte() byte {
	if b := f.take(1); b != nil {
		return b[0]
	}
	return 0
}

func (f *fields) sum() (out [32]byte) {
	copy(out[:], f.take(len(out)))
	return out
}

func (f *fields) text() string {
	n := f.number()
	if n > MaxText {
		f.bad = true
		return ""
	}
	return string(f.take(int(n)))
}

// end takes the 4 bytes of a sum off the end.
func (f *fields) end() uint32 {
	if f.bad || len(f.left) < 4 {
		f.bad = true
		return 0
	}
	n := len(f.left) - 4
	v := binary.LittleEndian.Uint32(f.left[n:])
	f.left = f.left[:n]
	return v
}
