package command

import (
	"fmt"
	"io"
	"strings"

	"risewright/assets"
)

func schemaVerb() verb {
	return verb{
		name: "schema", usage: "job|answer",
		short: "print the JSON Schema of job files or of solve --json",
		long:  `Both are of draft 2020-12, and say the unit of every number.`,
		do:    (*run).schema,
	}
}

func (r *run) schema(args []string) (int, error) {
	named, err := newFlags("schema").read(args)
	if err != nil {
		return Bad, err
	}
	names := []string{"job", "answer"}
	if len(named) != 1 {
		return Bad, fault{"schema takes one name", `say "risewright schema job" or "risewright schema answer"`}
	}
	text := ""
	switch named[0] {
	case "job":
		text = assets.JobSchema()
	case "answer":
		text = assets.AnswerSchema()
	default:
		f := fault{fmt.Sprintf("there is no schema %s", shown(named[0])), "there are job and answer"}
		if s := nearest(named[0], names); s != "" {
			f.remedy = fmt.Sprintf("did you mean %q? There are job and answer", s)
		}
		return Bad, f
	}
	if !strings.HasSuffix(text, "\n") {
		text += "\n"
	}
	_, err = io.WriteString(r.out, text)
	return Done, err
}
