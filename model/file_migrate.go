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

// knownFormats is what this program reads. A step for the newest format is
// added here, with a stored old file in testdata/formats, when FileFormat goes
// up.
func knownFormats() formats {
	return formats{newest: FileFormat, steps: map[int]migration{1: packBothSides}}
}

// packBothSides makes of the one packing of a step, as format 1 had it, the
// same at its left and its right. What is no step at all is left for the reader
// of the newest format to refuse.
func packBothSides(root *node) error {
	flight := root.member("flight")
	if flight == nil {
		return nil
	}
	steps := flight.member("steps")
	if steps == nil {
		return nil
	}
	for i, s := range steps.items {
		for k, m := range s.members {
			switch m.name {
			case "pack":
				s.members[k].name = "pack_left"
				s.members = append(s.members, member{name: "pack_right", at: m.at, value: m.value})
			case "pack_left", "pack_right":
				return fmt.Errorf("step %d has a field %q, which that format did not know", i+1, m.name)
			}
		}
	}
	return nil
}

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
