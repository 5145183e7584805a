package model

import (
	"bytes"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Decode returns the job in a job file. It reads every format up to
// FileFormat, and refuses what it does not fully understand, since saving
// again would lose it. A job that is merely unfinished is read. An error is
// always a *FileError; then the Job is the zero Job.
func Decode(data []byte) (Job, error) {
	j, err := knownFormats().decode(data)
	if err != nil {
		return Job{}, err
	}
	return j, nil
}

// decode is Decode with the formats given. It returns *FileError, not error,
// so that a nil one must be turned into a nil error by the caller.
func (f formats) decode(data []byte) (Job, *FileError) {
	data, fault := plainText(data)
	if fault != nil {
		return Job{}, fault
	}
	root, fault := parse(data)
	if fault != nil {
		return Job{}, fault
	}
	b := &binder{data: data}
	if fault := f.bring(b, root); fault != nil {
		return Job{}, fault
	}
	var out file
	if fault := b.bind(root, reflect.ValueOf(&out).Elem()); fault != nil {
		return Job{}, fault
	}
	if fault := blocked(data, root, out.Job); fault != nil {
		return Job{}, fault
	}
	return out.Job, nil
}

// plainText returns data without a byte order mark, or says what sort of file
// it is instead of text.
func plainText(data []byte) ([]byte, *FileError) {
	const remedy = "open a file that Risewright saved; its name ends in .risewright.json"
	if len(data) > MaxFileBytes {
		return nil, &FileError{Problem: fmt.Sprintf("the file is %d MB; at most %d MB are read", len(data)>>20, MaxFileBytes>>20), Remedy: remedy}
	}
	for _, magic := range []struct{ starts, what string }{
		{"%PDF", "a PDF"}, {"\x89PNG", "a PNG picture"}, {"\xff\xd8\xff", "a JPEG picture"},
		{"GIF8", "a GIF picture"}, {"PK\x03\x04", "a ZIP archive or an office document"}, {"\x1f\x8b", "a gzip archive"},
		{"\xff\xfe", "text in UTF-16"}, {"\xfe\xff", "text in UTF-16"},
		{"{\x00", "text in UTF-16"}, {"\x00{", "text in UTF-16"},
	} {
		if bytes.HasPrefix(data, []byte(magic.starts)) {
			if strings.HasSuffix(magic.what, "UTF-16") {
				return nil, &FileError{Line: 1, Column: 1, Problem: "the file is text in UTF-16; a job file is in UTF-8", Remedy: "save it again as UTF-8"}
			}
			return nil, &FileError{Line: 1, Column: 1, Problem: fmt.Sprintf("the file is %s, not a job", magic.what), Remedy: remedy}
		}
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, &FileError{Line: 1, Column: 1, Problem: "the file is empty", Remedy: "use another copy of the file"}
	}
	if at := bytes.IndexByte(data, 0); at >= 0 {
		line, column := lineAndColumn(data, at)
		return nil, &FileError{Line: line, Column: column, Problem: "the file is not text: it holds a zero byte", Remedy: "it may be damaged; use another copy, or " + remedy}
	}
	for at := 0; at < len(data); {
		r, size := utf8.DecodeRune(data[at:])
		if r == utf8.RuneError && size == 1 {
			line, column := lineAndColumn(data, at)
			return nil, &FileError{Line: line, Column: column, Problem: "the file is not UTF-8 text here", Remedy: "it may be damaged or in another encoding; save it again as UTF-8, or use another copy"}
		}
		at += size
	}
	return data, nil
}

// blocked returns the findings of j that forbid using it, as one error at the
// place of the first.
func blocked(data []byte, root *node, j Job) *FileError {
	const told = 3 // findings told in full; a file with more is wrong throughout
	var first *Finding
	var titles []string
	for _, f := range j.Validate() {
		if f.Severity != Block {
			continue
		}
		if first == nil {
			first = &f
		}
		titles = append(titles, f.Title)
	}
	if first == nil {
		return nil
	}
	problem := strings.Join(titles[:min(told, len(titles))], "; also ")
	if more := len(titles) - told; more > 0 {
		problem += fmt.Sprintf("; and %d more", more)
	}
	n, path := placeOf(root, j, first.Where)
	line, column := lineAndColumn(data, n.at)
	return &FileError{Path: pointer(path), Line: line, Column: column, Problem: problem, Remedy: first.Remedy}
}

// placeOf returns the node a finding belongs to and the way to it.
func placeOf(root *node, j Job, where Place) (*node, []string) {
	var want []string
	if where.Step > 0 {
		want = []string{"flight", "steps", strconv.Itoa(where.Step - 1)}
	} else if where.Reading != (ID{}) || where.Kind != "" {
		want = []string{"flight"}
	}
	if where.Reading != (ID{}) {
		rs := j.Flight.Readings
		if where.Step > 0 {
			rs = j.Flight.Steps[where.Step-1].Readings
		}
		for i := len(rs) - 1; i >= 0; i-- { // of two with one id the later is at fault
			if rs[i].ID == where.Reading && rs[i].Kind == where.Kind {
				want = append(want, "readings", strconv.Itoa(i))
				break
			}
		}
	}
	if where.Field != "" {
		want = append(want, strings.Split(where.Field, ".")...)
	}
	n := root
	for i, name := range want {
		var next *node
		switch n.kind {
		case objectNode:
			next = n.member(name)
		case arrayNode:
			if k, err := strconv.Atoi(name); err == nil && k >= 0 && k < len(n.items) {
				next = n.items[k]
			}
		}
		if next == nil {
			return n, want[:i]
		}
		n = next
	}
	return n, want
}
