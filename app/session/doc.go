// Package session owns one open job: its history, its answer and its file. It
// wires the loop of the program: an edit makes a new job, the solver answers
// it, the views look.
//
// A Session belongs to one goroutine, that of the interface.
package session
