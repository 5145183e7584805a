package session

import (
	"risewright/app/store"
	"risewright/model"
)

// keeper keeps a session's changes in a journal. A change is written while the
// solver works, and flushed to the disk while a person looks at the answer; the
// next change waits for that.
type keeper struct {
	store    *store.Store
	journals bool   // false: keep none
	program  string // that journals are signed with

	file    *store.JobFile // nil before the first save
	journal *store.Journal // nil before the first change
	unsaved int            // changes since the file was last read or written
	trouble error          // why the last change is not in the journal
	busy    *keeping       // the change that is being kept; nil when none is
	alarm   func()
}

// keeping is a change on its way to the disk.
type keeping struct {
	wrote, flushed chan struct{} // closed when done
	err            error         // of the writing
	late           error         // of the flushing
}

// OnTrouble has f called, on another goroutine, when the disk would not confirm
// a change after Do had returned; Trouble then says why. Every other trouble is
// there when Do returns.
func (k *keeper) OnTrouble(f func()) { k.alarm = f }

// Trouble says why the last change is not safe on the disk, or is nil. The job
// is as it should be all the same, and the next change tries again.
func (k *keeper) Trouble() error {
	select {
	case <-k.flushing():
		k.settle()
	default:
	}
	return k.trouble
}

// Flush waits until the last change is on the disk, so that it outlasts the
// machine, and returns Trouble.
func (k *keeper) Flush() error {
	k.settle()
	return k.trouble
}

// flushing is closed when nothing is on its way.
func (k *keeper) flushing() <-chan struct{} {
	if k.busy != nil {
		return k.busy.flushed
	}
	done := make(chan struct{})
	close(done)
	return done
}

// keep begins to keep the change from one job to the next.
func (k *keeper) keep(was, now model.Job, kind store.Kind, label string) {
	k.unsaved++
	if !k.journals {
		return
	}
	w := &keeping{wrote: make(chan struct{}), flushed: make(chan struct{})}
	k.busy = w
	alarm := k.alarm
	go func() {
		defer close(w.flushed)
		w.err = k.write(was, now, kind, label)
		close(w.wrote)
		if w.err == nil {
			if w.late = k.journal.Sync(); w.late != nil && alarm != nil {
				defer alarm()
			}
		}
	}()
}

// write puts a change into the journal, which is begun with the first one.
func (k *keeper) write(was, now model.Job, kind store.Kind, label string) error {
	if k.journal == nil {
		if err := k.begin(was); err != nil {
			return err
		}
	}
	text, err := model.Encode(now)
	if err != nil {
		return err
	}
	return k.journal.Append(store.Change{Kind: kind, Label: label, Text: text})
}

// begin begins the journal with the job as it was before the change.
func (k *keeper) begin(was model.Job) error {
	text, err := model.Encode(was)
	if err != nil {
		return err
	}
	first := model.Journal{Program: k.program, States: []model.JournalState{{Text: text}}, Unsaved: k.unsaved - 1}
	if first.Unsaved > 0 {
		first.SavedAt = -1
	}
	if k.file != nil {
		first.File = k.file.Mark()
	}
	k.journal, err = k.store.Begin(first)
	return err
}

// wrote waits until the change is written, so that it outlasts the program.
func (k *keeper) wrote() {
	if k.busy == nil {
		return
	}
	<-k.busy.wrote
	if k.trouble = k.busy.err; k.trouble != nil {
		k.settle()
	}
}

// settle waits until the change is on the disk, so that it outlasts the machine.
func (k *keeper) settle() {
	if k.busy == nil {
		return
	}
	<-k.busy.flushed
	k.trouble = k.busy.err
	if k.trouble == nil {
		k.trouble = k.busy.late
	}
	k.busy = nil
}

// savedAs tells the journal that the job, whose text is given, lies in its file.
func (k *keeper) savedAs(text []byte) {
	k.unsaved, k.trouble = 0, nil // what is in the file needs no journal
	if k.journal == nil {
		return
	}
	err := k.journal.Saved(k.file.Mark(), text)
	if err == nil {
		err = k.journal.Sync()
	}
	if err == nil {
		return
	}
	// A journal that does not know of the save would bring back what was before
	// it. All is in the file, so it is not needed: the next change begins another.
	if k.journal.Drop() == nil {
		k.journal = nil
		return
	}
	k.trouble = err
}

// Close ends the session. What is not saved is dropped: ask before.
func (k *keeper) Close() {
	k.settle()
	if k.journal != nil {
		if k.journal.Drop() != nil {
			k.journal.Close() // it is offered at the next start
		}
		k.journal = nil
	}
	k.file.Release()
}
