package main

import (
	"io"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"
)

// helpWidth is what every help fits into, but for examples, which are copied whole.
const helpWidth = 80

// fitHelp makes the help of every command fit the page, wherever its lines were broken
// when it was written.
func fitHelp(root *cobra.Command) {
	plain := root.HelpFunc()
	root.SetHelpFunc(func(c *cobra.Command, args []string) {
		// here and not at the start, where every command would pay for the help of all
		c.Long = reflowed(c.Long)
		out := c.OutOrStdout()
		var text strings.Builder
		c.SetOut(&text)
		plain(c, args)
		c.SetOut(out)
		lines := strings.Split(text.String(), "\n")
		for i, line := range lines {
			lines[i] = hanging(line)
		}
		io.WriteString(out, strings.Join(lines, "\n"))
	})
}

// reflowed breaks the paragraphs of a text anew. What is set in columns stays.
func reflowed(text string) string {
	paragraphs := strings.Split(text, "\n\n")
	for i, p := range paragraphs {
		if strings.Contains(p, "  ") || strings.HasPrefix(p, " ") {
			continue
		}
		var b strings.Builder
		column := 0
		for _, word := range strings.Fields(p) {
			wide := utf8.RuneCountInString(word)
			switch {
			case column == 0:
			case column+1+wide > helpWidth:
				b.WriteByte('\n')
				column = 0
			default:
				b.WriteByte(' ')
				column++
			}
			b.WriteString(word)
			column += wide
		}
		paragraphs[i] = b.String()
	}
	return strings.Join(paragraphs, "\n\n")
}

// hanging breaks the line of a list, "  name   what it is", under its second column.
// Examples and running text stay.
func hanging(line string) string {
	example := strings.HasPrefix(line, "  hedgerow")
	if utf8.RuneCountInString(line) <= helpWidth || !strings.HasPrefix(line, "  ") || example {
		return line
	}
	indent := len(line) - len(strings.TrimLeft(line, " "))
	gap := strings.Index(line[indent:], "  ")
	column := indent
	if gap > 0 {
		rest := line[indent+gap:]
		column = len(line) - len(strings.TrimLeft(rest, " "))
	}
	at := strings.LastIndex(line[:helpWidth+1], " ")
	if at <= column {
		return line
	}
	return line[:at] + "\n" + hanging(strings.Repeat(" ", column)+line[at+1:])
}
