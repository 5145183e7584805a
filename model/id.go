package model

import "github.com/google/uuid"

// ID names one thing in a job for as long as the job lives. The zero ID names
// the flight as a whole.
type ID = uuid.UUID

// NewID returns a fresh random id.
func NewID() ID { return uuid.New() }

// NamedID returns the id that always belongs to name below parent. Demo jobs
// and tests use it so that the same job gives the same bytes.
func NamedID(parent ID, name string) ID { return uuid.NewSHA1(parent, []byte(name)) }
