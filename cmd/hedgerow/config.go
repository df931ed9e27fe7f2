package main

import (
	"hedgerow/report"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/quantity"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

// newConfig makes the config commands.
func newConfig(e *env) *cobra.Command {
	c := group(&cobra.Command{Use: "config", Short: "Settings kept in the notebook"})
	c.AddCommand(newConfigGet(e), newConfigSet(e))
	return c
}

func newConfigGet(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "get [SETTING]",
		Short:   "Show the settings, or one",
		Example: "  hedgerow config get gallon",
		Args:    atMost("SETTING"),
		RunE: func(_ *cobra.Command, args []string) error {
			// read as records are: the settings of a notebook that is not there would pass for the reader's
			n, err := e.reading()
			if err != nil {
				return err
			}
			known := trials.KnownSettings()
			if len(args) == 1 {
				s, err := trials.SettingNamed(args[0])
				if err != nil {
					return err
				}
				known = []trials.Setting{s}
			}
			return e.show(report.SettingList(known, n.Settings))
		},
	}
}

func newConfigSet(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "set SETTING VALUE",
		Short: `Change a setting; "default" takes it back`,
		Example: `  hedgerow config set gallon imperial
  hedgerow config set units us
  hedgerow config set gallon default`,
		Args: exactly("SETTING", "VALUE"),
		RunE: func(_ *cobra.Command, args []string) error {
			s, err := trials.SettingNamed(args[0])
			if err != nil {
				return err
			}
			value := args[1]
			if value == "default" {
				// no word is kept, so that a default that changes some day is taken over
				value = ""
			} else if err := s.Check(value); err != nil {
				return err
			}
			if err := e.write("set "+s.Key, func(tx *store.Tx) error { return tx.Set(s.Key, value) }); err != nil {
				return err
			}
			return e.saved(map[string]string{"setting": s.Key, "value": args[1]}, "%s is now %s", s.Key, args[1])
		},
	}
}

// optionsOf turns settings into how amounts are read.
func optionsOf(settings map[string]string) (quantity.Options, error) {
	o := quantity.Options{}
	if settings[trials.SettingGallon] == "imperial" {
		o.Gallon = quantity.Imperial
	}
	return o, nil
}

// style returns how amounts are shown: --units, else the setting, else metric.
func (e *env) style() quantity.Units {
	word := e.flags.units
	if word == "" && !e.noNotebook() {
		// a setting that cannot be read is no reason to hide an answer: metric will do
		if settings, err := e.settings(); err == nil {
			word = settings[trials.SettingUnits]
		}
	}
	if word == "us" {
		return quantity.USUnits
	}
	return quantity.Metric
}

// readingLimits are how far a gravity and, as a share, a volume may be off: the
// user's settings, or the defaults.
func (e *env) readingLimits() (gravity, volumeShare float64, err error) {
	n := &trials.Notebook{}
	if !e.noNotebook() {
		if n.Settings, err = e.settings(); err != nil {
			return 0, 0, err
		}
	}
	gravity, volumeShare = ledger.ReadingLimits(n)
	return gravity, volumeShare, nil
}
