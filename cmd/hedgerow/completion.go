package main

import "github.com/spf13/cobra"

// completionUse says for each shell how its script is loaded, now and for good.
var completionUse = map[string]string{
	"bash": `Print the script that lets bash complete commands, flags and the names of your
records. It needs the package bash-completion. Nothing is stored.

This shell only:    source <(hedgerow completion bash)
Every new shell:    hedgerow completion bash > ~/.local/share/bash-completion/completions/hedgerow`,
	"zsh": `Print the script that lets zsh complete commands, flags and the names of your
records. Nothing is stored.

This shell only:    source <(hedgerow completion zsh)
Every new shell:    write it as _hedgerow into a folder of your $fpath`,
	"fish": `Print the script that lets fish complete commands, flags and the names of your
records. Nothing is stored.

This shell only:    hedgerow completion fish | source
Every new shell:    hedgerow completion fish > ~/.config/fish/completions/hedgerow.fish`,
	"powershell": `Print the script that lets PowerShell complete commands, flags and the names of
your records. Nothing is stored.

This shell only:    hedgerow completion powershell | Out-String | Invoke-Expression
Every new shell:    add that line to your profile`,
}

// ownCompletion adds the completion commands with words of our own, and makes
// them refuse what they do not know, like all others.
func ownCompletion(root *cobra.Command, groupID string) {
	root.SetCompletionCommandGroupID(groupID)
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		if c.Name() != "completion" {
			continue
		}
		c.Short = "Print the script that lets a shell complete commands and names"
		c.Long = c.Short + ".\nThe help of each shell says how to load it."
		c.Example = "  hedgerow completion bash"
		group(c)
		for _, shell := range c.Commands() {
			shell.Short = "Print the script for " + shell.Name()
			shell.Long = completionUse[shell.Name()]
			shell.Args = exactly()
			shell.Example = "  hedgerow completion " + shell.Name()
			if f := shell.Flags().Lookup("no-descriptions"); f != nil {
				f.Usage = "leave out what each command does"
			}
		}
	}
}
