package main

import (
	"time"

	"hedgerow/report"
	"hedgerow/trials"
	"hedgerow/trials/planning"

	"github.com/spf13/cobra"
)

func newTastingEdit(e *env) *cobra.Command {
	var name, at, note string
	var drops tasteEdit
	c := &cobra.Command{
		Use:   "edit TASTING",
		Short: "Correct the name, time or note of a tasting",
		Long: `Correct the name, time or note of a tasting. What is served and scored stays: of
a tasting set up wrongly nothing is worth keeping, so delete it and set it up anew.
Of one dosed to taste also how much beer was in a glass, how much was drunk at a
step, and whether the extract is the very one that goes into the beer.`,
		Example:           `  hedgerow tasting edit autumn --note "warm room"`,
		Args:              exactly("TASTING"),
		ValidArgsFunction: e.completing(tastingNames),
		RunE: func(c *cobra.Command, args []string) error {
			n, err := e.editing(c)
			if err != nil {
				return err
			}
			t, err := n.Tasting(args[0])
			if err != nil {
				return err
			}
			word(&t.Name, name)
			word(&t.Note, note)
			if at != "" {
				if t.At, err = e.parseWhen(at, time.Time{}); err != nil {
					return err
				}
			}
			if err := t.Validate(); err != nil {
				return err
			}
			records, err := drops.records(e, n, t)
			if err != nil {
				return err
			}
			if err := e.save("edit tasting "+args[0], append(records, &t)...); err != nil {
				return err
			}
			return e.saved(t, "corrected tasting %s", t.Name)
		},
	}
	c.Flags().StringVar(&name, "name", "", "another name")
	c.Flags().StringVar(&at, "at", "", whenHelp)
	c.Flags().StringVar(&note, "note", "", "a note")
	drops.flags(c)
	return c
}

func newPlanEdit(e *env) *cobra.Command {
	var name, at string
	c := &cobra.Command{
		Use:   "edit PLAN",
		Short: "Correct the name or time of a plan",
		Long: `Correct the name or time of a plan. Its amounts stay as they were planned; what was
done otherwise is told with hedgerow plan done, and by editing the additions.`,
		Example:           `  hedgerow plan edit bench-1 --at "2026-04-25 19:00"`,
		Args:              exactly("PLAN"),
		ValidArgsFunction: e.completing(planNames),
		RunE: func(c *cobra.Command, args []string) error {
			n, err := e.editing(c)
			if err != nil {
				return err
			}
			p, err := planning.Plan(n, args[0])
			if err != nil {
				return err
			}
			word(&p.Name, name)
			if err := trials.CheckName("plan", p.Name); err != nil {
				return err
			}
			if at != "" {
				if p.At, err = e.parseWhen(at, time.Time{}); err != nil {
					return err
				}
			}
			if err := e.save("edit plan "+args[0], &p); err != nil {
				return err
			}
			return e.saved(p, "corrected plan %s", p.Name)
		},
	}
	c.Flags().StringVar(&name, "name", "", "another name")
	c.Flags().StringVar(&at, "at", "", whenHelp)
	return c
}

func newMaterialEdit(e *env) *cobra.Command {
	var o materialOptions
	c := &cobra.Command{
		Use:   "edit NAME",
		Short: "Correct a material of your own",
		Long: `Correct a material that you added, or your figures for a built-in one; what you
leave out stays. "none" takes an optional value away.`,
		Example:           "  hedgerow material edit moor-mix --moisture 12%",
		Args:              exactly("NAME"),
		ValidArgsFunction: e.completing(ownMaterialNames),
		RunE: func(c *cobra.Command, args []string) error {
			n, err := e.editing(c)
			if err != nil {
				return err
			}
			if _, err := n.OwnMaterial(args[0]); err != nil {
				return err
			}
			return e.runMaterialAdd(o, args[0], c.Flags().Changed("hard"))
		},
	}
	o.flags(c)
	return c
}

func newTasterAdd(e *env) *cobra.Command {
	var note string
	c := &cobra.Command{
		Use:   "add NAME",
		Short: "Add a taster; the first score does it too",
		Example: `  hedgerow taster add "Taster F"
  hedgerow taster add G --note "no sense of bitterness"`,
		Args: exactly("NAME"),
		RunE: func(_ *cobra.Command, args []string) error {
			n, err := e.writing()
			if err != nil {
				return err
			}
			all, fresh, err := n.TastersNamed(args)
			if err != nil {
				return err
			}
			if len(fresh) == 0 {
				return trials.Refuse("hedgerow taster list", "there is already a taster %q", all[0].Name)
			}
			t := fresh[0]
			t.Note = note
			if err := e.save("add taster "+t.Name, &t); err != nil {
				return err
			}
			return e.saved(t, "added taster %s", t.Name)
		},
	}
	c.Flags().StringVar(&note, "note", "", "a note")
	return c
}

func newMeterList(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "list",
		Short:   "List the meters",
		Example: "  hedgerow meter list",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			n, err := e.reading()
			if err != nil {
				return err
			}
			return e.list(report.MeterList(n, e.style()), len(n.Meters), "hedgerow meter show NAME")
		},
	}
}
