package main

import (
	"io"

	"hedgerow/report/document"
	"hedgerow/report/evenings"
	"hedgerow/trials"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

func newTastingSheet(e *env) *cobra.Command {
	var taster, html string
	var pour bool
	c := &cobra.Command{
		Use:   "sheet TASTING",
		Short: "Print score sheets, one for each taster, or the pour sheet with the key",
		Long: `Print a score sheet for each taster with the glasses in that taster's order: a
line from 0 to 10 and a vote for each taste, liking and notes. Score sheets never
tell what is behind a code. --pour prints the sheet of whoever pours and does not
score: how to pour, for whom in which order, and the key on a page of its own.
--html writes a page to print; its lines are 100 mm long, so a ruler reads them.
Stored: when the pour sheet of a sealed tasting was printed, whatever is undone.`,
		Example: `  hedgerow tasting sheet club-night
  hedgerow tasting sheet club-night --html sheets.html
  hedgerow tasting sheet club-night --pour`,
		Args:              exactly("TASTING"),
		ValidArgsFunction: e.completing(tastingNames),
		RunE: func(_ *cobra.Command, args []string) error {
			if pour && taster != "" {
				return trials.Refuse("leave --taster out; the pour sheet is one for all", "--taster and --pour do not go together")
			}
			read := e.reading
			if pour {
				read = e.writing
			}
			n, err := read()
			if err != nil {
				return err
			}
			t, err := n.Tasting(args[0])
			if err != nil {
				return err
			}
			if s, drops := n.ToTasteOf(t.ID); drops {
				return e.dropperPages(n, t, s, taster, html, pour)
			}
			if pour {
				return e.pourSheet(n, t, html)
			}
			sheets, err := evenings.ScoreSheetsOf(n, t, taster)
			if err != nil {
				return err
			}
			return e.scoreSheets(sheets, html)
		},
	}
	f := c.Flags()
	f.StringVar(&taster, "taster", "", "the sheet of one taster alone")
	f.BoolVar(&pour, "pour", false, "the sheet with the key, for whoever pours and does not score")
	f.StringVar(&html, "html", "", "write a page to print into this file, or - for standard output")
	return c
}

// pourSheet prints the pour sheet or writes its page, and keeps that the key of a
// sealed tasting was printed.
func (e *env) pourSheet(n *trials.Notebook, t trials.Tasting, html string) error {
	if t.CupsUnread() {
		return trials.Refuse("hedgerow tasting score "+t.Name, "tasting %s is done alone: nobody pours for another", t.Name)
	}
	if t.Sealed() {
		if err := e.mark(trials.NewMark(t, trials.MarkPoured, 1, e.now())); err != nil {
			return err
		}
	}
	e.release()
	s := evenings.PourSheetOf(n, t)
	if html == "" {
		return e.show(s.View())
	}
	return e.page(html, s, func(w io.Writer) error { return document.WriteHTML(w, s.View().Document) })
}

// scoreSheets prints the score sheets or writes their page.
func (e *env) scoreSheets(s evenings.ScoreSheets, html string) error {
	if html == "" {
		return e.show(s.View())
	}
	e.warn(s.Warnings...)
	return e.page(html, s, func(w io.Writer) error { return evenings.WriteSheets(w, s) })
}

// page writes a page and says so; one that goes to standard output says it all.
func (e *env) page(path string, record any, write func(io.Writer) error) error {
	if path == standardOutput {
		e.done = true
		return write(e.stdout)
	}
	err := e.writeFile(path, func(w io.Writer) error {
		p := &plain{w: w, json: func() bool { return false }}
		defer p.end()
		return write(p)
	})
	if err != nil && e.wrote {
		// what the page is of is kept: to fail would have it typed again
		e.warn("saved, but " + err.Error())
		return nil
	}
	if err != nil {
		return err
	}
	return e.saved(record, "wrote %s; open it in a browser and print it", path)
}

func newTastingJoin(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "join TASTING TASTER...",
		Short: "Give a late taster a serving order",
		Long: `Give tasters who were not there when the tasting was set up an order of their
own, chosen so that the orders stay as even as they can be.`,
		Example:           `  hedgerow tasting join club-night "Taster E"`,
		Args:              atLeast("TASTING", "TASTER"),
		ValidArgsFunction: e.completing(tastingNames),
		RunE: func(_ *cobra.Command, args []string) error {
			n, t, err := e.writingTasting(args[0])
			if err != nil {
				return err
			}
			if dropped(n, t) {
				return e.joinDroppers(n, t, args[1:])
			}
			if err := e.joinTasting(n, t, args[1:]); err != nil {
				return err
			}
			return e.show(evenings.Tasting(n, t, false, e.warned...))
		},
	}
}

// joinTasting writes orders for late tasters.
func (e *env) joinTasting(n *trials.Notebook, t trials.Tasting, names []string) error {
	tasters, fresh, err := n.TastersNamed(names)
	if err != nil {
		return err
	}
	n.Tasters = append(n.Tasters, fresh...)
	var joined []trials.Place
	for _, taster := range tasters {
		if err := n.CheckJoin(t, taster); err != nil {
			return err
		}
		order, err := evenings.LateOrder(n, t)
		if err != nil {
			return err
		}
		places := n.Join(t, taster, order)
		// each order is chosen beside those before it, so it must be seen by the next
		n.Places, joined = append(n.Places, places...), append(joined, places...)
	}
	return e.write("join tasting "+t.Name, func(tx *store.Tx) error {
		for i := range fresh {
			if err := tx.Save(&fresh[i]); err != nil {
				return err
			}
		}
		for i := range joined {
			if err := tx.Save(&joined[i]); err != nil {
				return err
			}
		}
		return nil
	})
}
