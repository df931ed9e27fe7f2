package main

import (
	"bufio"
	"fmt"
	"strings"

	"hedgerow/report"
	"hedgerow/report/decisions"
	"hedgerow/trials"

	"github.com/spf13/cobra"
)

// newClaim makes the claim commands.
func newClaim(e *env) *cobra.Command {
	c := group(&cobra.Command{Use: "claim", Short: "Claims heard or read about doses: keep, list"})
	c.AddCommand(newClaimAdd(e), newClaimList(e), newClaimEdit(e), newClaimDelete(e))
	return c
}

func newClaimAdd(e *env) *cobra.Command {
	var r trials.Claim
	var form string
	c := &cobra.Command{
		Use:   "add MATERIAL CLAIM",
		Short: "Keep a claim as it was written, in one unit where it can be converted",
		Long: `Keep a claim with where it was heard. What cannot be converted (a handful, flower
heads) is kept as written, and the answer says what to weigh.`,
		Example: `  hedgerow claim add heather "1 oz per 5 gal" --basis dry --source "a club member"
  hedgerow claim add heather "3 to 5 g/L" --source "an old recipe card"`,
		Args: exactly("MATERIAL", "CLAIM"),
		RunE: func(_ *cobra.Command, args []string) error {
			return e.runClaimAdd(r, args[0], args[1], form)
		},
	}
	c.Flags().StringVar(&r.Basis, "basis", "", "what the grams are grams of: fresh, dry or as-is")
	c.Flags().StringVar(&r.Source, "source", "", "where it was heard or read")
	c.Flags().StringVar(&r.Note, "note", "", "a note")
	c.Flags().StringVar(&form, "form", "", "form of the material, for spoon weights")
	return c
}

// runClaimAdd converts and keeps a claim.
func (e *env) runClaimAdd(r trials.Claim, material, claim, form string) error {
	// before the write begins, for nobody may be asked in between
	if err := e.askBasis(&r, material, claim, form); err != nil {
		return err
	}
	n, err := e.writing()
	if err != nil {
		return err
	}
	m, err := n.Material(material)
	if err != nil {
		return err
	}
	if strings.TrimSpace(claim) == "" {
		return trials.Refuse(`write it as it was heard, such as "1 oz per 5 gal"`, "the claim is empty")
	}
	r.MaterialKey, r.AsWritten = m.Key, claim
	r.Name = eventName(m.Key, "c", names(n.Claims, func(c trials.Claim) string { return c.Name }))
	e.convertClaim(&r, m, form)
	if err := r.Validate(); err != nil {
		return err
	}
	if err := e.save("keep claim "+r.Name, &r); err != nil {
		return err
	}
	if err := e.saved(r, "kept claim %s: %q, %s", r.Name, claim, convertedText(r)); err != nil {
		return err
	}
	e.next("hedgerow claim list %s", m.Key)
	return nil
}

// convertClaim turns a claim as it was written into grams per litre, where it can.
func (e *env) convertClaim(r *trials.Claim, m trials.Material, form string) {
	d, err := e.readDose(r.AsWritten, m.Key, form)
	if err != nil {
		// no refusal: advice that cannot be converted is still advice, and was heard only once
		_, hint := describe(err)
		e.remark("kept as written: %v; %s", err, hint)
		return
	}
	if r.Basis == "" {
		r.Basis = d.BasisWord
	}
	if r.Basis == "" {
		e.assumeBasis(m)
	}
	r.PerTea = d.PerTea
	// "up to" has an upper end alone
	r.HighGPerL = &d.HighGPerL
	if !d.UpTo {
		r.LowGPerL = &d.LowGPerL
	}
	for _, s := range append(d.Assumptions, d.Warnings...) {
		e.remark("assumed: %s", s)
	}
}

// convertedText is a claim in grams per litre.
func convertedText(r trials.Claim) string {
	switch {
	case r.HighGPerL == nil:
		return "not converted"
	case r.LowGPerL != nil && *r.LowGPerL != *r.HighGPerL:
		return fmt.Sprintf("%.3g to %.3g g/L", *r.LowGPerL, *r.HighGPerL)
	}
	return fmt.Sprintf("%.3g g/L", *r.HighGPerL)
}

func newClaimEdit(e *env) *cobra.Command {
	var basis, source, note, written, form string
	c := &cobra.Command{
		Use:   "edit CLAIM",
		Short: "Correct a claim; what rests on it changes too",
		Long: `Correct a claim by its name, as hedgerow claim list shows it. --written puts other
words in the place of those that were kept, and converts them anew; "none" takes a
basis, source or note away.`,
		Example: `  hedgerow claim edit heather.c1 --basis dry
  hedgerow claim edit heather.c1 --written "4 to 5 g/L"`,
		Args:              exactly("CLAIM"),
		ValidArgsFunction: e.completing(claimNames),
		RunE: func(c *cobra.Command, args []string) error {
			n, err := e.editing(c)
			if err != nil {
				return err
			}
			r, err := n.Claim(args[0])
			if err != nil {
				return err
			}
			word(&r.Basis, basis)
			word(&r.Source, source)
			word(&r.Note, note)
			if written != "" {
				m, err := n.Material(r.MaterialKey)
				if err != nil {
					return err
				}
				r.AsWritten, r.LowGPerL, r.HighGPerL, r.PerTea = written, nil, nil, false
				e.convertClaim(&r, m, form)
			}
			if err := r.Validate(); err != nil {
				return err
			}
			if err := e.save("edit claim "+r.Name, &r); err != nil {
				return err
			}
			return e.saved(r, "%s is now %q, %s", r.Name, r.AsWritten, convertedText(r))
		},
	}
	f := c.Flags()
	f.StringVar(&written, "written", "", "the claim as it was heard, anew")
	f.StringVar(&basis, "basis", "", "what the grams are grams of: fresh, dry or as-is")
	f.StringVar(&source, "source", "", "where it was heard or read")
	f.StringVar(&note, "note", "", "a note")
	f.StringVar(&form, "form", "", "form of the material, for spoon weights")
	return c
}

// askBasis asks at a terminal whether a claim means the fresh or the dried plant, where
// both are usual and it does not say.
func (e *env) askBasis(r *trials.Claim, material, claim, form string) error {
	if r.Basis != "" || !isTerminal(e.stdin) || e.flags.json || e.flags.quiet {
		return nil
	}
	n, err := e.beforeWriting()
	if err != nil {
		return err
	}
	m, err := n.Material(material)
	if err != nil || !m.BasisAsk || m.DefaultBasis == "" {
		return err
	}
	// what cannot be converted is kept as it is, and needs no basis
	d, err := e.readDose(claim, m.Key, form)
	if err != nil || d.BasisWord != "" {
		return nil
	}
	fmt.Fprintf(e.stderr, "Of fresh or dry %s? (%s) ", m.Key, m.DefaultBasis)
	lines := bufio.NewScanner(e.input())
	if !lines.Scan() {
		return e.ctx.Err()
	}
	// no answer is the one in brackets, said as assumed
	if answer := strings.ToLower(strings.TrimSpace(lines.Text())); answer != "?" {
		r.Basis = answer
	}
	return nil
}

// assumeBasis says what a claim is taken for that names no basis, where that is
// not plain.
func (e *env) assumeBasis(m trials.Material) {
	if !m.BasisAsk || m.DefaultBasis == "" {
		return
	}
	other := trials.BasisDry
	if m.DefaultBasis == trials.BasisDry {
		other = trials.BasisFresh
	}
	e.remark("assumed: of %s %s, since the claim does not say; if it was %s, add --basis %s", m.DefaultBasis, m.Key, other,
		other)
}

func newClaimList(e *env) *cobra.Command {
	var attribute string
	c := &cobra.Command{
		Use:   "list [MATERIAL]",
		Short: "List claims in one unit, judged by what was tasted",
		Long: `List claims in one unit. Of one material they stand on one axis with the trials
made so far; once a dosed beer was scored, each claim is below, within or above
what this panel called just right.`,
		Example: `  hedgerow claim list
  hedgerow claim list heather`,
		Args: atMost("MATERIAL"),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 {
				n, s, err := e.trialSet(args[0])
				if err != nil {
					return err
				}
				view, err := decisions.JudgedClaims(n, s, attribute)
				if err != nil {
					return err
				}
				return e.show(view)
			}
			n, err := e.reading()
			if err != nil {
				return err
			}
			return e.list(report.ClaimList(n.Claims), len(n.Claims), "hedgerow claim list MATERIAL judges them")
		},
	}
	c.Flags().StringVar(&attribute, "attribute", "", "what the dose should be right for; the most voted on if left out")
	return c
}
