package main

import (
	"errors"
	"io/fs"
	"os"

	"hedgerow/report"
	"hedgerow/trials"
	"hedgerow/trials/ledger"
	"hedgerow/trials/store"

	"github.com/spf13/cobra"
)

func newBackup(e *env) *cobra.Command {
	var keep int
	c := &cobra.Command{
		Use:   "backup FILE",
		Short: "Write a checked copy of the notebook",
		Long: `Write a copy of the whole notebook, as it is at one moment. The copy is opened and
checked before it gets its name. With --keep the name is that of a folder: the copy
gets the date and time as its name there, and the last so many are kept.

A copy a week is made by itself beside the notebook after a write, and the last
three are kept; hedgerow config set copies off ends that. A copy on the same disk
does not help when the disk is lost.`,
		Example: `  hedgerow backup notebook-copy.db
  hedgerow backup . --keep 10`,
		Args: exactly("FILE"),
		RunE: func(c *cobra.Command, args []string) error {
			s, err := e.store(false)
			if err != nil {
				return err
			}
			if c.Flags().Changed("keep") {
				return e.runDatedBackup(s, args[0], keep)
			}
			if err := e.checkCopyTarget(s, args[0]); err != nil {
				return err
			}
			if err := s.Backup(e.ctx, args[0]); err != nil {
				return err
			}
			return e.saved(map[string]string{"copy": args[0]}, "copied the notebook to %s", args[0])
		},
	}
	c.Flags().IntVar(&keep, "keep", 0, "FILE is a folder: keep so many dated copies in it")
	return c
}

// runDatedBackup writes a copy with a date into a folder.
func (e *env) runDatedBackup(s *store.Store, dir string, keep int) error {
	const most = 1000
	if keep < 1 || keep > most {
		return trials.Refuse("write --keep 10", "--keep: %d copies are outside 1 to %d", keep, most)
	}
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return trials.Refuse("name a folder that is there", "%q is no folder", dir)
	}
	name, err := s.Dated(e.ctx, dir, keep)
	if err != nil {
		return err
	}
	return e.saved(map[string]string{"copy": name}, "copied the notebook to %s", name)
}

// checkCopyTarget refuses a file that a copy must not take the place of: all that
// a page must not either, but for another copy of the same notebook.
func (e *env) checkCopyTarget(s *store.Store, path string) error {
	if err := e.checkTarget(path); err == nil || !isPlainDatabase(path) || e.ofNotebook(path) != "" {
		return err
	}
	old, err := store.Open(e.ctx, path, store.Options{ReadOnly: true, Now: e.now})
	if err != nil {
		return trials.Refuse("name another file", "%q is another program's, or damaged: %v", path, err)
	}
	of, err := old.ID(e.ctx)
	if err := errors.Join(err, old.Close()); err != nil {
		return err
	}
	id, err := s.ID(e.ctx)
	switch {
	case err != nil:
		return err
	case of != id:
		return trials.Refuse("name another file", "%q is another notebook, and no copy of this one", path)
	case isInUse(path):
		// its log would be taken for that of the copy
		return trials.Refuse("end it first, or name another file", "%q is open in another hedgerow", path)
	}
	return nil
}

// isInUse reports whether what SQLite keeps beside a file while it is open is there.
func isInUse(path string) bool {
	_, err := os.Stat(path + "-wal")
	return err == nil
}

// isPlainDatabase reports whether a file, and not what a link leads to, is a
// SQLite file.
func isPlainDatabase(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.Mode().IsRegular() && isDatabase(path)
}

func newRestore(e *env) *cobra.Command {
	var agreed bool
	c := &cobra.Command{
		Use:   "restore FILE",
		Short: "Put a copy in the place of the notebook",
		Long: `Put a copy that backup made in the place of the notebook. The copy is checked
first; the present notebook is kept beside it, its name ends in .before-restore.`,
		Example: "  hedgerow restore notebook-copy.db --yes",
		Args:    exactly("FILE"),
		RunE: func(_ *cobra.Command, args []string) error {
			path, err := e.notebookPath()
			if err != nil {
				return err
			}
			if _, err := os.Stat(args[0]); errors.Is(err, fs.ErrNotExist) {
				return &trials.Problem{Code: trials.NotFound, Message: "there is no file " + args[0],
					Hint: "name a copy that hedgerow backup made"}
			}
			if sameFile(args[0], path) {
				return trials.Refuse("name a copy", "%q is the notebook itself", args[0])
			}
			if _, err := os.Stat(path); err == nil {
				if err := e.confirm("Put "+args[0]+" in the place of the notebook "+path+"?", agreed); err != nil {
					return err
				}
			}
			kept, err := store.Restore(e.ctx, path, args[0])
			if err != nil {
				return err
			}
			if kept != "" {
				e.say("the notebook as it was is kept as %s", kept)
			}
			return e.saved(map[string]string{"restored": args[0], "kept": kept}, "the notebook is now that of %s", args[0])
		},
	}
	c.Flags().BoolVar(&agreed, "yes", false, "do not ask")
	return c
}

func newCheck(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "check",
		Short: "Look for damage in the notebook",
		Long: `Look for damage: whether the file is whole, every record is as it was written and
within what can be typed, every batch has a ledger, and undo could do its work.
Each find says what is damaged and what to do. Nothing is changed.`,
		Example: "  hedgerow check",
		Args:    exactly(),
		RunE: func(*cobra.Command, []string) error {
			s, err := e.store(false)
			if err != nil {
				return err
			}
			done := e.working("checking the notebook")
			found := e.damage(s)
			done()
			if err := e.show(report.Damage(found)); err != nil {
				return err
			}
			if len(found) > 0 {
				return errSilent
			}
			return nil
		},
	}
}

// damage gathers what is wrong with a notebook.
func (e *env) damage(s *store.Store) []trials.Damage {
	found := s.Check(e.ctx)
	n, err := s.Whole(e.ctx)
	if err != nil {
		return append(found, trials.Damage{Record: "records", What: "cannot be read: " + err.Error(),
			Do: "bring a copy back: hedgerow restore FILE"})
	}
	return append(append(found, n.Check()...), ledger.Folds(n)...)
}

// copyDue makes the copy of the week after a write, unless the user does not want
// any. What goes wrong with it does not undo the write.
func (e *env) copyDue() {
	if !e.wrote || e.open == nil {
		return
	}
	settings, err := e.open.Settings(e.ctx)
	if err != nil || settings[trials.SettingCopies] == "off" {
		return
	}
	made, err := e.open.CopyDue(e.ctx)
	switch {
	case err != nil:
		e.warn("the copy of the week could not be made: " + err.Error())
	case made != "":
		e.say("made the copy of the week, %s", made)
	}
}
