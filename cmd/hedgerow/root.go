package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"hedgerow/report/document"
	"hedgerow/trials"
	"hedgerow/trials/spelling"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// run executes one command line and returns the exit status.
func run(e *env, args []string) int {
	unguard := e.guard()
	err := e.execute(args)
	if errors.Is(err, errMadeMeanwhile) {
		// now that the notebook is there everybody waits for the other
		err = e.execute(args)
	}
	if unwritten := unguard(); unwritten != nil {
		return e.unwritten(unwritten)
	}
	if err == nil {
		return exitDone
	}
	// again for what is said last
	defer e.guard()()
	if e.ctx.Err() != nil {
		// whatever the error: it only says that something was broken off
		return exitInterrupted
	}
	// A flag that cannot be read ends the reading of those behind it.
	e.flags.json = e.flags.json || slices.Contains(args, "--json")
	return e.complain(err)
}

// execute runs the command that args name.
func (e *env) execute(args []string) error {
	root := newRoot(e)
	root.SetArgs(args)
	err := root.ExecuteContext(e.ctx)
	e.copyDue()
	// here and not by each command: a write that was begun must be let go however the command ended
	e.close()
	return err
}

// commandGroup is a heading of the help with the commands below it.
type commandGroup struct {
	id, title string
	commands  []func(*env) *cobra.Command
}

// commandGroups returns the commands in the order that help shows them.
func commandGroups() []commandGroup {
	return []commandGroup{
		{"log", "Log what you do:", []func(*env) *cobra.Command{newBatch, newExtract, newAddition, newReading, newMeter,
			newClaim, newMaterial}},
		{"taste", "Plan and taste:", []func(*env) *cobra.Command{newPlan, newTasting, newTaster}},
		{"answer", "Get answers:", []func(*env) *cobra.Command{newStatus, newLedger, newCompare, newSuggest, newReport,
			newRecipe, newFind}},
		{"reckon", "Work out without storing:", []func(*env) *cobra.Command{newDilute, newSteep, newDose}},
		{"keep", "The program and its notebook:",
			[]func(*env) *cobra.Command{newDemo, newVerify, newConfig, newUndo, newRedo, newCheck, newBackup,
				newRestore, newExport, newImport, newMerge,
				newWhere, newVersion}},
	}
}

// newRoot builds the command tree.
func newRoot(e *env) *cobra.Command {
	root := group(&cobra.Command{
		Use:   "hedgerow",
		Short: "A notebook for fruit, flowers, herbs and spices in beer",
		Long: `hedgerow logs what went into a beer and how it was steeped, works out what that
did to volume, gravity and strength, keeps blind tastings, compares trials and
says which dose and method to try next.

Start here: hedgerow demo`,
		Version: programVersion,
		PersistentPreRunE: func(c *cobra.Command, _ []string) error {
			if err := e.flags.check(); err != nil {
				return err
			}
			if err := noEmptyFlag(c); err != nil {
				return err
			}
			return e.checkTargets(c)
		},
		// cobra would print errors its own way, and the usage after each of them
		SilenceErrors: true,
		SilenceUsage:  true,
	})
	help := root.RunE
	root.RunE = func(c *cobra.Command, args []string) error {
		// once there is a notebook it is asked for far more often than the list of commands
		if len(args) == 0 && !e.noNotebook() {
			return e.status()
		}
		return help(c, args)
	}
	root.SetVersionTemplate(versionLine() + "\n")
	e.globalFlags(root)
	// wrapped to a narrow terminal, which breaks words anywhere
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), ".FlagUsages", ".FlagUsagesWrapped 80"))
	root.SetOut(e.stdout)
	root.SetErr(e.stderr)
	root.SetIn(e.stdin)
	root.SetFlagErrorFunc(flagError)
	root.SetHelpCommand(helpCommand())
	root.SetHelpCommandGroupID("keep")
	e.addCommands(root)
	ownCompletion(root, "keep")
	fitHelp(root)
	return root
}

// globalFlags adds the flags that every command has.
func (e *env) globalFlags(root *cobra.Command) {
	f := root.PersistentFlags()
	f.StringVar(&e.flags.db, "db", "", "notebook file (else HEDGEROW_DB, else the user's data folder)")
	f.BoolVar(&e.flags.json, "json", false, "print JSON")
	f.BoolVar(&e.flags.csv, "csv", false, "print the table as CSV")
	f.BoolVar(&e.flags.markdown, "markdown", false, "print Markdown")
	f.BoolVar(&e.flags.wide, "wide", false, "show all columns")
	f.BoolVar(&e.flags.plain, "plain", false, "draw no pictures in characters")
	f.StringVar(&e.flags.units, "units", "", "show amounts in metric or us units")
	f.BoolVarP(&e.flags.quiet, "quiet", "q", false, "do not suggest the next command")
}

// addCommands adds the commands in their groups, and the pages of help.
func (e *env) addCommands(root *cobra.Command) {
	for _, g := range commandGroups() {
		root.AddGroup(&cobra.Group{ID: g.id, Title: g.title})
		for _, add := range g.commands {
			c := add(e)
			c.GroupID = g.id
			root.AddCommand(c)
		}
	}
	root.AddCommand(exitCodesTopic())
	for _, t := range topics() {
		root.AddCommand(t.command())
	}
}

// group makes a command that only holds others: without arguments it prints
// its help, with an unknown word it fails and says what was probably meant
// (cobra alone would print help and report success).
func group(c *cobra.Command) *cobra.Command {
	c.SuggestionsMinimumDistance = 2
	// else cobra sees to unknown words itself, without our hints
	c.Args = cobra.ArbitraryArgs
	c.RunE = func(c *cobra.Command, args []string) error {
		if len(args) == 0 {
			return c.Help()
		}
		return notACommand(c, args[0])
	}
	return c
}

// notACommand refuses a word that names no command below c.
func notACommand(c *cobra.Command, word string) error {
	hint := "see " + c.CommandPath() + " --help"
	if near := c.SuggestionsFor(word); len(near) > 0 {
		hint = spelling.Question(near)
	}
	return trials.Refuse(hint, "%s has no command %q", c.CommandPath(), word)
}

// helpCommand shows the help of a command. Cobra's own prints the help of the
// whole program for a word it does not know, and reports success.
func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "help [COMMAND]",
		Short:   "Show the help of a command or topic",
		Example: "  hedgerow help batch new",
		RunE: func(c *cobra.Command, args []string) error {
			found, rest, err := c.Root().Find(args)
			if err != nil {
				return err
			}
			if len(rest) > 0 {
				return notACommand(found, rest[0])
			}
			return found.Help()
		},
	}
}

// flagError turns pflag's errors into Problems, with the nearest flag for one
// that does not exist.
func flagError(c *cobra.Command, err error) error {
	help := "see " + c.CommandPath() + " --help"
	var wanting *pflag.ValueRequiredError
	if errors.As(err, &wanting) {
		return trials.Refuse(help, "--%s needs a value", wanting.GetSpecifiedName())
	}
	// what a flag of ours says of its value is better than that it cannot be read
	var ours *trials.Problem
	if errors.As(err, &ours) {
		return ours
	}
	var wrong *pflag.InvalidValueError
	if errors.As(err, &wrong) {
		// whole numbers and switches are all that pflag reads here; the rest is text to it
		hint := "write a whole number, such as 2"
		if wrong.GetFlag().Value.Type() == "bool" {
			hint = "leave the value out"
		}
		return trials.Refuse(hint, "--%s: %q cannot be read", wrong.GetFlag().Name, wrong.GetValue())
	}
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return trials.Refuse(help, "%v", err)
	}
	// "-5g" is read as a flag: say what is wrong with the amount
	if typed := unknown.GetSpecifiedShortnames(); typed != "" && typed[0] >= '0' && typed[0] <= '9' {
		return trials.Refuse("write an amount above zero", "amount %q is not above zero", "-"+typed)
	}
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	hint := help
	if near := spelling.Nearest(unknown.GetSpecifiedName(), names); len(near) > 0 {
		hint = "did you mean --" + strings.Join(near, " or --") + "?"
	}
	dashes := "--"
	if unknown.GetSpecifiedShortnames() != "" {
		dashes = "-"
	}
	return trials.Refuse(hint, "there is no flag %s%s on %s", dashes, unknown.GetSpecifiedName(), c.CommandPath())
}

// exactly requires n arguments and names them when they are missing.
func exactly(names ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		switch {
		case len(args) < len(names):
			return trials.Refuse("usage: "+c.UseLine(), "%s is missing", strings.Join(names[len(args):], " and "))
		case len(args) > len(names):
			return trials.Refuse("put a name or amount with spaces in quotes; usage: "+c.UseLine(), "unexpected %q",
				args[len(names)])
		}
		return nil
	}
}

// atMost accepts up to the named arguments.
func atMost(names ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) > len(names) {
			return exactly(names...)(c, args)
		}
		return nil
	}
}

// atLeast requires the named arguments and lets more follow.
func atLeast(names ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) < len(names) {
			return trials.Refuse("usage: "+c.UseLine(), "%s is missing", strings.Join(names[len(args):], " and "))
		}
		return nil
	}
}

// say prints a line for people on standard error, unless JSON is asked for.
func (e *env) say(format string, args ...any) {
	if !e.flags.json {
		fmt.Fprintf(e.stderr, format+"\n", args...)
	}
}

// sayNext suggests on standard error what to type next.
func (e *env) sayNext(text string) {
	const head = "next: "
	e.say("%s", head+document.WrapAfter(text, e.pageWidth()-len(head), "  "))
}

// next suggests the next command on standard error. A name with a space in it is
// quoted, so that the line can be pasted.
func (e *env) next(format string, args ...any) {
	for i, a := range args {
		if text, ok := a.(string); ok {
			args[i] = trials.Typed(text)
		}
	}
	if !e.flags.quiet {
		e.sayNext(fmt.Sprintf(format, args...))
	}
}
