package main

import (
	"os"
	"runtime"

	"hedgerow/report/decisions"
	"hedgerow/trials"
)

// answerStudies answers a file of studies, one JSON object a line. A bad line
// gets an error object as its answer, the others go on, and the command fails
// at the end.
func (e *env) answerStudies(path string) error {
	in := e.input()
	if path != "-" {
		f, err := os.Open(path)
		if err != nil {
			return &trials.Problem{Code: trials.NotFound, Message: "cannot read the studies: " + err.Error(),
				Hint: "name a file, or - for standard input"}
		}
		defer f.Close()
		in = f
	}
	// waiting for typed JSON would look like a program that hangs
	if path == "-" && isTerminal(e.stdin) {
		return trials.Refuse("pipe the studies in: hedgerow suggest --study - < studies.jsonl",
			"standard input is a terminal")
	}
	bad, err := decisions.AnswerStudies(e.ctx, in, e.stdout, runtime.GOMAXPROCS(0))
	if err != nil {
		return err
	}
	if bad > 0 {
		// each bad line has its error in the output already
		return errSilent
	}
	return nil
}
