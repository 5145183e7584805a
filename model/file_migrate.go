package model

import (
	"fmt"
	"strconv"
)

// migration turns a file of one format into the next, in place. It reports
// what it can not carry over; it must not drop it.
type migration func(root *node) error

// formats is what a reader of job files knows: the newest format, and for each
// older one the step that leads to the next.
type formats struct {
	newest int
	steps  map[int]migration
}

// knownFormats is what this program reads. Format 1 is the first there ever
// was, so there is no step yet. A step for format 1 is added here, with a
// stored old file in testdata, when FileFormat becomes 2.
func knownFormats() formats { return formats{newest: FileFormat} }

// bring carries the file at root from its own format to the newest.
func (f formats) bring(b *binder, root *node) *FileError {
	if root.kind != objectNode {
		return b.fault(root.at, fmt.Sprintf("the file holds %s, not a job", root.kind.words()), "open a file that Risewright saved")
	}
	header := root.member(headerField)
	if header == nil {
		return b.fault(root.at, fmt.Sprintf("this is JSON but not a Risewright job: it has no field %q", headerField), "open a file that Risewright saved")
	}
	b.path = append(b.path, headerField)
	if err := b.want(header, numberNode); err != nil {
		return err
	}
	format, err := strconv.Atoi(header.text)
	if err != nil || format < 0 {
		return b.fault(header.at, fmt.Sprintf("the format %s is not a whole number", shorten(header.text)), fmt.Sprintf("this program writes %d", f.newest))
	}
	if format > f.newest {
		return b.fault(header.at, fmt.Sprintf("made by a newer Risewright (format %d); this one reads up to %d; your file is unchanged", format, f.newest),
			"open it with the newer program")
	}
	for ; format < f.newest; format++ {
		step, ok := f.steps[format]
		if !ok {
			return b.fault(header.at, fmt.Sprintf("format %d can not be read by this program; your file is unchanged", format),
				"open it with the program that made it, or ask for help with the file")
		}
		if err := step(root); err != nil {
			return b.fault(header.at, fmt.Sprintf("the file could not be brought from format %d to %d: %v; your file is unchanged", format, format+1, err),
				"open it with the program that made it")
		}
	}
	header.text = strconv.Itoa(f.newest)
	b.path = b.path[:0]
	return nil
}
