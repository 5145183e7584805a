package model

import (
	"fmt"
	"strings"
)

// FileFormat is the version of the job file that Encode writes. It goes up
// whenever a field is added, dropped or given another meaning; the step that
// brings older files along is then added to migrations.
const FileFormat = 2

// Limits on a job file. They keep a damaged or hostile file from exhausting
// memory and lie far beyond any stair.
const (
	// MaxFileBytes is the largest file read or written. A flight of 40 risers
	// with every kind read twice takes about half a megabyte.
	MaxFileBytes = 16 << 20
	// maxFileDepth is the deepest nesting read; a job has 7 levels.
	maxFileDepth = 32
	// maxFileValues is the most values read. In a file that Encode wrote a
	// value takes over 30 bytes with its name and indent, so the largest has
	// fewer than 560,000.
	maxFileValues = 600_000
	// maxNumberText is the longest number read, in bytes. The shortest text
	// that gives a float64 back exactly has at most 24.
	maxNumberText = 64
)

// headerField holds the format version. A file without it is no job file.
const headerField = "risewright_job"

// file is a job file: a header and the fields of the job beside it.
type file struct {
	Format  int    `json:"risewright_job"`
	Program string `json:"program,omitempty"` // version text of the program that wrote it; not used
	Job
}

// FileError says what is wrong with a job file, where, and what to do. The
// job that is open is never touched by it.
type FileError struct {
	Path    string // JSON pointer to the place, such as /flight/steps/4/corners; "" is the whole file
	Line    int    // counted from 1; 0 when the place has no line
	Column  int    // in characters, counted from 1
	Problem string
	Remedy  string
}

// Error returns place, problem and remedy in one line.
func (e *FileError) Error() string {
	var b strings.Builder
	if e.Line > 0 {
		fmt.Fprintf(&b, "line %d, column %d", e.Line, e.Column)
		if e.Path != "" {
			fmt.Fprintf(&b, " (%s)", e.Path)
		}
		b.WriteString(": ")
	}
	b.WriteString(e.Problem)
	if e.Remedy != "" {
		b.WriteString("; ")
		b.WriteString(e.Remedy)
	}
	return b.String()
}
