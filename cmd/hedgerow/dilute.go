package main

import (
	"strings"

	"hedgerow/report"
	"hedgerow/trials"
	"hedgerow/trials/figure"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"

	"github.com/spf13/cobra"
)

// diluteOptions are the figures of a dilution as typed.
type diluteOptions struct {
	aimOptions
	volume, og, fg, now, ibu, srm, co2   string
	gravityLimit, volumeLimit, zeroError string
	warmest, storage, rated              string
	add                                  []string
	ferment, explain                     bool
}

func newDilute(e *env) *cobra.Command {
	var o diluteOptions
	c := &cobra.Command{
		Use:   "dilute",
		Short: "Work out what water, tea, spirit, fruit or sugar does to a beer",
		Long: `Work out volume, gravity, strength, bitterness and colour before and after
additions, each with its 95 % interval. Nothing is stored. Any number may carry
its limit: "12L+-3%", "250mL+-2% spirit 60+-1%". With --now fermentation is
under way and --fg is the gravity that the base is expected to reach. The change of
the strength has an interval of its own, since most errors are common to before and
after.

--target-abv, --target-gravity and --keep-abv work the other way round: how much
water may go in on top of the additions, or how strong the wort must be. --jars
makes the jars of a split alike in added liquid.`,
		Example: `  hedgerow dilute --volume 12L --og 1.048 --fg 1.010 --ibu 30 --add "600mL water"
  hedgerow dilute --volume 19L --og 1.060 --fg 1.012 --add "250mL+-2% spirit 60+-1% 10+-5g/L"
  hedgerow dilute --volume 18L --og 1.052 --now 1.020 --fg 1.011 --add "2.5kg raspberry retain=0.5"
  hedgerow dilute --volume 12L --og 1.048 --fg 1.010 --add "500mL tea 8g/L" --keep-abv
  hedgerow dilute --volume 12L --og 1.048 --fg 1.010 --target-abv 4.5
  hedgerow dilute --volume 2L --jars "200mL,120mL,0"`,
		Args: exactly(),
		RunE: func(*cobra.Command, []string) error {
			if o.jars != "" {
				return o.runJars(e)
			}
			q, remarks, err := o.request(e)
			if err != nil {
				return err
			}
			materials, err := e.materials()
			if err != nil {
				return err
			}
			d, err := ledger.Dilute(materials, q)
			if err != nil {
				return err
			}
			d.Remark(remarks)
			extra, err := o.further(materials, q)
			if err != nil {
				return err
			}
			extra.Explain = o.explain
			return e.show(report.Dilution(d, e.style(), extra))
		},
	}
	o.flags(c)
	return c
}

// flags adds the figures of the beer and what goes into it to a command.
func (o *diluteOptions) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&o.volume, "volume", "", "volume of the beer, such as 12L")
	f.StringVar(&o.og, "og", "", "original gravity")
	f.StringVar(&o.fg, "fg", "", "final gravity, or the expected one with --now")
	f.StringVar(&o.now, "now", "", "gravity now, while fermentation is under way")
	f.StringVar(&o.ibu, "ibu", "", "bitterness, IBU")
	f.StringVar(&o.srm, "srm", "", "colour, SRM")
	f.StringVar(&o.co2, "co2", "", "dissolved CO2, volumes")
	f.StringArrayVar(&o.add, "add", nil, `what goes in, such as "600mL water"; repeat for more`)
	f.StringVar(&o.gravityLimit, "gravity-limit", "", "how far a gravity may be off; 0.001 if left out")
	f.StringVar(&o.volumeLimit, "volume-limit", "", "how far the volume may be off; 2% if left out")
	f.StringVar(&o.zeroError, "zero-error", "", "part of the gravity limit that all readings of one hydrometer share")
	f.StringVar(&o.warmest, "warmest", "", "highest temperature of the beer since fermentation ended, for its CO2")
	f.StringVar(&o.storage, "storage", "", "highest temperature a package will see, for its pressure; 25C if left out")
	f.StringVar(&o.rated, "rated", "", "pressure rating of the container as its maker states it, bar")
	f.BoolVar(&o.ferment, "ferment", false, "added sugar ferments out")
	o.aimOptions.flags(c)
	f.BoolVar(&o.explain, "explain", false, "show formula, inputs, intermediate values and sources")
}

// request reads the figures, and returns what is to be remarked on them.
func (o diluteOptions) request(e *env) (ledger.DiluteRequest, []string, error) {
	q := ledger.DiluteRequest{Ferment: o.ferment}
	for _, need := range []struct{ flag, text, example string }{{"volume", o.volume, "12L"}, {"og", o.og, "1.048"},
		{"fg", o.fg, "1.010"}} {
		if need.text == "" {
			return q, nil, trials.Refuse("add --"+need.flag+" "+need.example, "--%s is missing", need.flag)
		}
	}
	options, err := e.calculatorOptions()
	if err != nil {
		return q, nil, err
	}
	if q.GravityLimit, q.VolumeLimit, err = e.readingLimits(); err != nil {
		return q, nil, err
	}
	r := limitedReader{options: options}
	r.into(&q.VolumeL, "volume", o.volume, r.volume)
	r.into(&q.OG, "og", o.og, r.gravity)
	r.into(&q.FG, "fg", o.fg, r.gravity)
	r.maybe(&q.Now, "now", o.now, r.gravity)
	r.maybe(&q.IBU, "ibu", o.ibu, r.number)
	r.maybe(&q.SRM, "srm", o.srm, r.number)
	r.maybe(&q.CO2Volumes, "co2", o.co2, r.number)
	r.share(&q.GravityLimit, "gravity-limit", o.gravityLimit, trials.MaxGravityLimit)
	r.share(&q.ZeroError, "zero-error", o.zeroError, trials.MaxGravityLimit)
	r.share(&q.VolumeLimit, "volume-limit", o.volumeLimit, trials.MaxVolumeLimit)
	for _, text := range o.add {
		if l, ok := r.liquid(text); ok {
			q.Liquids = append(q.Liquids, l)
		}
	}
	if r.err == nil {
		r.err = o.gasInto(&q)
	}
	if r.err == nil && q.Now != nil && q.Now.Value > q.OG.Value {
		r.err = trials.Refuse("usually the two were swapped, or one was read in a warm or badly mixed sample",
			"the gravity now, %s, is above the original gravity %s", o.now, o.og)
	}
	return q, r.warnings, r.err
}

// gasInto reads what the pressure of a package depends on.
func (o diluteOptions) gasInto(q *ledger.DiluteRequest) error {
	var a amounts
	a.set(&q.WarmestC, "warmest", o.warmest, a.temperature)
	a.set(&q.StorageC, "storage", o.storage, a.temperature)
	a.set(&q.RatedBar, "rated", o.rated, pressureBar)
	return a.err
}

// calculatorOptions reads the settings without making a notebook.
func (e *env) calculatorOptions() (quantity.Options, error) {
	// a calculator must leave nothing behind, not even an empty notebook
	if e.noNotebook() {
		return quantity.Options{PlatoToSG: ledger.SGFromPlato}, nil
	}
	a := e.amounts()
	a.options.PlatoToSG = ledger.SGFromPlato
	return a.options, a.err
}

// limitedReader reads amounts that may carry their limits, and keeps the first
// error.
type limitedReader struct {
	options  quantity.Options
	err      error
	warnings []string
}

// into reads a required amount.
func (r *limitedReader) into(dst *figure.Limited, flag, text string, read func(string) (figure.Limited, error)) {
	if r.err != nil {
		return
	}
	l, err := read(text)
	if err != nil {
		r.err = inFlag(flag, err)
		return
	}
	*dst = l
}

// maybe reads an optional amount.
func (r *limitedReader) maybe(dst **figure.Limited, flag, text string, read func(string) (figure.Limited, error)) {
	if text == "" || r.err != nil {
		return
	}
	*dst = &figure.Limited{}
	r.into(*dst, flag, text, read)
}

// share reads a number, or per cent as a share, up to most.
func (r *limitedReader) share(dst *float64, flag, text string, most float64) {
	if text == "" || r.err != nil {
		return
	}
	number, isPct := strings.CutSuffix(strings.TrimSpace(text), "%")
	v, err := plainNumber(number)
	if err != nil || v < 0 {
		r.err = trials.Refuse("write 0.001 or 2%", "--%s: %q is not a limit", flag, text)
		return
	}
	if isPct {
		v /= 100
	}
	if v > most {
		r.err = trials.Refuse("write 0.001 or 2%", "--%s: %q is more than %g", flag, text, most)
		return
	}
	*dst = v
}

func (r *limitedReader) volume(text string) (figure.Limited, error) {
	v, err := quantity.ParseVolume(text, r.options)
	return v.VolumeL, err
}

func (r *limitedReader) gravity(text string) (figure.Limited, error) {
	g, err := quantity.ParseGravity(text, ledger.SGFromPlato)
	r.warnings = append(r.warnings, g.Warnings...)
	return g.SG, err
}

func (r *limitedReader) number(text string) (figure.Limited, error) {
	value, limit, has := strings.Cut(text, "+-")
	v, err := plainNumber(value)
	if err != nil || v < 0 {
		return figure.Limited{}, trials.Refuse("write 30 or 30+-2", "%q is not a number of zero or more", text)
	}
	out := figure.Limited{Value: v, HasLimit: has}
	if has {
		if out.HalfWidth, err = plainNumber(limit); err != nil || out.HalfWidth < 0 {
			return out, trials.Refuse("write 30 or 30+-2", "the limit of %q is not a number of zero or more", text)
		}
	}
	return out, nil
}

// liquid reads one --add.
func (r *limitedReader) liquid(text string) (ledger.Liquid, bool) {
	if r.err != nil {
		return ledger.Liquid{}, false
	}
	p, err := quantity.ParseAddition(text, r.options)
	if err != nil {
		r.err = inFlag("add", err)
		return ledger.Liquid{}, false
	}
	r.warnings = append(r.warnings, p.Warnings...)
	return liquidOf(p), true
}

// inFlag names the flag of an error; the empty flag is a plain argument.
func inFlag(flag string, err error) error {
	code, hint := describe(err)
	message := err.Error()
	if flag != "" {
		message = "--" + flag + ": " + message
	}
	return &trials.Problem{Code: code, Message: message, Hint: hint}
}
