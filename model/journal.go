package model

import (
	"encoding/binary"
	"hash/crc32"
	"time"
)

// A journal is what happened to an open job since it was opened, so that
// nothing is lost when the program or the machine stops. It is a file that is
// only ever appended to, and holds all that is needed to rebuild the job and
// its history:
//
//	journal = magic, format (2 bytes), record...
//	record  = length of body (4 bytes), CRC-32C of those 4 bytes and of body (4 bytes), body
//	body    = number (counts from 1), kind (1 byte), time (seconds since 1970, zigzag), what the kind says
//
//	begin   = unsaved (counts changes), state saved (0: none), sum (32 bytes), path, program, label, text of the job file
//	past    = label, change, CRC-32C of the text it gives (4 bytes): a state from before the journal began
//	seen    = which of the states is the one last seen (counts from 0)
//	edit    = label, change, CRC-32C of the text it gives (4 bytes)
//	undo    = the same
//	redo    = the same
//	saved   = sum (32 bytes), path
//
// Numbers without a size are unsigned varints; texts have their length before
// them; numbers of fixed size are little-endian. A change is a delta from the
// text of the job before it to that after it, undo and redo among them, so that
// every record is applied alike and a reader needs one text at a time.
//
// What is always true:
//
//  1. A record is read only if its length, its sum and its number are right,
//     and the text it gives has the sum it says. Reading stops before the first
//     that is not: a journal cut anywhere gives what was whole.
//  2. A writer that failed may be used again once what it wrote is cut off.
//  3. The text of the job goes through Decode like any job file, so that
//     journals of older formats of the job are brought along by the same steps.

// JournalFormat is the version of the journal that is written. A reader
// refuses newer ones.
const JournalFormat = 1

// journalMagic is what a journal begins with, before its format.
const journalMagic = "rwjournl"

// Limits on a journal.
const (
	// MaxJournalBytes is the most that is read. Writers begin a new journal long
	// before it.
	MaxJournalBytes = 256 << 20
	// maxRecord bounds the body of a record: a whole job, and what is beside it.
	maxRecord = MaxFileBytes + 4*MaxText + 64
	// maxKeptText and maxKeptStates bound the history that a reader hands back,
	// the oldest goes first: 16 MB are decoded in about a second.
	maxKeptText   = 16 << 20
	maxKeptStates = 1000
)

type recordKind byte

const (
	beginRecord recordKind = 1 + iota
	pastRecord
	seenRecord
	editRecord
	undoRecord
	redoRecord
	savedRecord
)

// JournalFile is the job file that a journal belongs to.
type JournalFile struct {
	Path string   // "" before the first save
	Sum  [32]byte // SHA-256 of the file when it was last read or written; zero when there is none
}

// JournalState is a job that was, as the text of its file, and the label of the
// edit that led to it.
type JournalState struct {
	Label string
	Text  []byte
}

// JournalError says why a journal can not be read at all.
type JournalError struct {
	Problem string
	Newer   bool // made by a newer program, which can read it
}

// Error returns the problem.
func (e *JournalError) Error() string { return e.Problem }

var journalTable = crc32.MakeTable(crc32.Castagnoli)

// record returns a body in its frame.
func record(body []byte) []byte {
	out := make([]byte, 8, 8+len(body))
	binary.LittleEndian.PutUint32(out, uint32(len(body)))
	binary.LittleEndian.PutUint32(out[4:], frameSum(out[:4], body))
	return append(out, body...)
}

func frameSum(length, body []byte) uint32 {
	return crc32.Update(crc32.Checksum(length, journalTable), journalTable, body)
}

func textSum(text []byte) uint32 { return crc32.Checksum(text, journalTable) }

func appendText[T string | []byte](b []byte, text T) []byte {
	return append(binary.AppendUvarint(b, uint64(len(text))), text...)
}

func appendTime(b []byte, at time.Time) []byte { return binary.AppendVarint(b, at.Unix()) }
