package decisions

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"

	"hedgerow/report/doseresponse"
)

// longestStudy is the longest line of studies that is read, in bytes.
const longestStudy = 16 << 20

// AnswerStudies answers studies, one JSON object a line, in the order they come
// in, on workers goroutines. It returns how many lines were bad: their answers
// are error objects. Empty lines are passed over.
func AnswerStudies(ctx context.Context, in io.Reader, out io.Writer, workers int) (bad int, err error) {
	type answer struct {
		line []byte
		bad  bool
	}
	// Each line gets a channel of its own, queued in order, so that answers
	// come out in order however long each takes.
	queue := make(chan chan answer, 2*workers)
	slots := make(chan struct{}, workers)
	scanErr := make(chan error, 1)
	go func() {
		defer close(queue)
		lines := bufio.NewScanner(in)
		lines.Buffer(make([]byte, 0, 64<<10), longestStudy)
		for lines.Scan() && ctx.Err() == nil {
			// the scanner writes the next line over this one while a worker still reads it
			line := bytes.Clone(bytes.TrimSpace(lines.Bytes()))
			if len(line) == 0 {
				continue
			}
			done := make(chan answer, 1)
			queue <- done
			// while no slot is free nothing more is read, so that memory stays bounded however long the input
			slots <- struct{}{}
			go func() {
				text, err := doseresponse.AnswerLine(line, headlineOf)
				done <- answer{text, err != nil}
				<-slots
			}()
		}
		scanErr <- lines.Err()
	}()
	w := bufio.NewWriter(out)
	for done := range queue {
		a := <-done
		if a.bad {
			bad++
		}
		if _, err := fmt.Fprintf(w, "%s\n", a.line); err != nil {
			return bad, err
		}
	}
	if err := w.Flush(); err != nil {
		return bad, err
	}
	// last: what was read before the fault has its answers printed already
	if err := <-scanErr; err != nil {
		return bad, fmt.Errorf("read the studies: %w", err)
	}
	return bad, ctx.Err()
}
