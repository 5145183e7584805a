package assets

import _ "embed" // for the schemas

//go:embed schema/job.schema.json
var jobSchema string

// JobSchema returns the JSON Schema (draft 2020-12) of the job file, with the
// unit of every number in words.
func JobSchema() string { return jobSchema }

//go:embed schema/answer.schema.json
var answerSchema string

// AnswerSchema returns the JSON Schema (draft 2020-12) of the whole answer that
// the program prints as JSON, with the unit of every number in words.
func AnswerSchema() string { return answerSchema }
