package session

import (
	"fmt"
	"time"

	"risewright/app/store"
	"risewright/model"
	"risewright/solver"
)

// Session is one open job.
type Session struct {
	tables  model.Tables
	clock   func() time.Time
	history *model.History
	answer  *solver.Answer
	saved   int // depth of the history when last saved; -1: that state cannot be reached
	keeper
}

// New starts a session on a job that has no file yet and keeps no journal of
// it. clock tells the time of readings and saves.
func New(t model.Tables, job model.Job, clock func() time.Time) *Session {
	return Home{Tables: t, Clock: clock}.New(job)
}

// Home is where sessions live: what they solve with, and where they are kept.
type Home struct {
	Tables model.Tables
	Clock  func() time.Time
	// Store keeps files and journals. Nil keeps files, but no journals.
	Store *store.Store
	// Program is the version text that journals are signed with.
	Program string
}

// New starts a session on a job that has no file yet.
func (h Home) New(job model.Job) *Session { return h.session(model.NewHistory(job)) }

func (h Home) session(history *model.History) *Session {
	s := &Session{tables: h.Tables, clock: h.Clock, history: history}
	s.keeper = keeper{store: h.Store, journals: h.Store != nil, program: h.Program}
	if h.Store == nil {
		s.keeper.store = store.New(store.Disk{}, "", h.Clock)
	}
	s.solve()
	return s
}

// Job returns the job as it is now.
func (s *Session) Job() model.Job { return s.history.Job() }

// Answer returns the answer to the job as it is now.
func (s *Session) Answer() *solver.Answer { return s.answer }

// Tables returns the tables the session solves with.
func (s *Session) Tables() model.Tables { return s.tables }

// Now returns the time by the session's clock, to the second.
func (s *Session) Now() time.Time { return s.clock().Truncate(time.Second) }

func (s *Session) solve() { s.answer = answer(s.history.Job(), s.tables, solver.Solve) }

// answer solves a job. Should the solver break down, which is our fault and not
// the job's, the job stays open and can be saved: the answer says what happened.
func answer(job model.Job, t model.Tables, solve func(model.Job, model.Tables) *solver.Answer) (a *solver.Answer) {
	defer func() {
		if cause := recover(); cause != nil {
			a = &solver.Answer{Job: job, Findings: []model.Finding{{
				Rule: "program.fault", Severity: model.Block,
				Title:  "the program failed while working this job out; nothing is lost",
				Detail: fmt.Sprintf("It said: %v.", cause),
				Remedy: "undo the last change, save the job under another name, and send it to those who make Risewright",
			}}}
		}
	}()
	return solve(job, t)
}

// Do applies an edit and solves. On an error nothing has changed. When it
// returns, the edit is in the journal; see Trouble for when that failed.
func (s *Session) Do(e model.Edit) error {
	s.settle()
	was := s.history.Job()
	before := s.history.Depth()
	if err := s.history.Do(e); err != nil {
		return err
	}
	if before < s.saved {
		s.saved = -1 // the saved state lay ahead and is now forgotten
	}
	s.changed(was, store.Edited, s.history.UndoLabel())
	return nil
}

// changed keeps what the job has become, and solves it meanwhile.
func (s *Session) changed(was model.Job, kind store.Kind, label string) {
	s.keep(was, s.history.Job(), kind, label)
	s.solve()
	s.wrote()
}

// Preview answers the job as it would be after an edit, and keeps nothing.
func (s *Session) Preview(e model.Edit) (*solver.Answer, error) {
	job, err := e.Apply(s.history.Job())
	if err != nil {
		return nil, err
	}
	return answer(job, s.tables, solver.Solve), nil
}

// Undo takes back the last edit and says whether there was one.
func (s *Session) Undo() bool {
	s.settle()
	was, label := s.history.Job(), s.history.UndoLabel()
	ok := s.history.Undo()
	if ok {
		s.changed(was, store.Undone, label)
	}
	return ok
}

// Redo does again what was taken back and says whether there was anything.
func (s *Session) Redo() bool {
	s.settle()
	was, label := s.history.Job(), s.history.RedoLabel()
	ok := s.history.Redo()
	if ok {
		s.changed(was, store.Redone, label)
	}
	return ok
}

// UndoLabel names the edit Undo would take back, or is empty.
func (s *Session) UndoLabel() string { return s.history.UndoLabel() }

// RedoLabel names the edit Redo would do again, or is empty.
func (s *Session) RedoLabel() string { return s.history.RedoLabel() }

// Dirty says whether the job differs from its file.
func (s *Session) Dirty() bool { return s.history.Depth() != s.saved }
