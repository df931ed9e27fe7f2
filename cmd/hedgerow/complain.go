package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"syscall"

	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/moment"
	"hedgerow/trials/quantity"

	"github.com/spf13/cobra"
)

// The exit codes; see exitCodesTopic.
const (
	exitDone        = 0
	exitFailed      = 1
	exitInvalid     = 2
	exitNotFound    = 3
	exitNotEnough   = 4
	exitBusy        = 5
	exitForeign     = 6
	exitInterrupted = 130
)

// exitOf is the exit code of each kind of problem.
var exitOf = map[trials.Code]int{
	trials.Failed:          exitFailed,
	trials.Invalid:         exitInvalid,
	trials.NotFound:        exitNotFound,
	trials.NotEnough:       exitNotEnough,
	trials.Busy:            exitBusy,
	trials.ForeignNotebook: exitForeign,
}

// errSilent ends a command with exit code 1 after it has said everything.
var errSilent = errors.New("failed")

// complain prints an error on standard error, as text or JSON, and returns the
// exit code.
func (e *env) complain(err error) int {
	if errors.Is(err, errSilent) {
		return exitFailed
	}
	code, hint := describe(err)
	if e.flags.json {
		type body struct {
			Code    trials.Code `json:"code"`
			Message string      `json:"message"`
			Hint    string      `json:"hint"`
		}
		text, _ := json.Marshal(map[string]body{"error": {code, err.Error(), hint}})
		// standard error even as JSON: what reads the answer must not take an error for one
		fmt.Fprintf(e.stderr, "%s\n", text)
		return exitOf[code]
	}
	// the message stays one line, for whoever looks for it in a log
	fmt.Fprintf(e.stderr, "hedgerow: %v\n", err)
	if hint != "" {
		fmt.Fprintln(e.stderr, "  "+document.WrapAfter(hint, e.pageWidth()-2, "    "))
	}
	return exitOf[code]
}

// unwritten deals with an answer that could not be written, and returns the exit
// code. What was saved is saved, and whoever repeats the command has it twice.
func (e *env) unwritten(err error) int {
	if e.wrote || e.done {
		fmt.Fprintf(e.stderr, "warning: saved, but the answer could not be written: %v\n", err)
		return exitDone
	}
	if errors.Is(err, syscall.EPIPE) {
		return exitFailed // whoever read the answer has enough of it
	}
	return e.complain(&trials.Problem{Code: trials.Failed, Message: "the answer could not be written: " + err.Error(),
		Hint: "see whether the disk is full"})
}

// describe returns the code and the hint of an error.
func describe(err error) (code trials.Code, hint string) {
	var p *trials.Problem
	if errors.As(err, &p) {
		return p.Code, p.Hint
	}
	var q *quantity.Error
	if errors.As(err, &q) {
		return trials.Invalid, q.Hint
	}
	var m *moment.Error
	if errors.As(err, &m) {
		return trials.Invalid, m.Hint
	}
	return trials.Failed, ""
}

// exitCodesTopic is a help topic: hedgerow help exit-codes.
func exitCodesTopic() *cobra.Command {
	return &cobra.Command{
		Use:   "exit-codes",
		Short: "What the exit codes mean",
		Long: `0    done
1    failed, or a check did not hold
2    bad usage or a value that cannot be
3    no such record
4    not enough data to answer
5    the notebook is busy: another hedgerow is writing
6    not a hedgerow notebook, or one written by a newer version
130  interrupted`,
	}
}
