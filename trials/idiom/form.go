package idiom

import (
	"slices"
	"strings"

	"hedgerow/trials"
)

// cuts are the words for how a material is cut, by the form they mean.
var cuts = map[string]string{
	"whole": "whole", "loose": "whole", "intact": "whole",
	"cut": "cut", "chopped": "cut", "sliced": "cut", "shredded": "cut", "diced": "cut",
	"crushed": "crushed", "cracked": "crushed", "bruised": "crushed",
	"powder": "powder", "powdered": "powder", "ground": "powder", "milled": "powder",
	"zest": "zest", "zested": "zest", "grated": "zest",
	"puree": "puree", "pureed": "puree", "pulp": "puree", "pulped": "puree", "mashed": "puree",
	"juice": "juice", "juiced": "juice", "frozen": "frozen",
}

// parts name a part of a plant; the form does not depend on them.
var parts = []string{"heads", "head", "flowers", "flower", "petals", "leaves", "leaf", "seeds", "seed", "berries",
	"roots", "root", "tips", "blossoms", "pieces", "sticks", "pods", "plant", "herb", "fruit"}

// Form returns the form that text means, with what was taken. Dried, fresh and
// frozen are states beside the cut, which is whole unless said. Text that is not
// understood comes back as it is; fresh and dried at once is a Problem.
func Form(text string) (form string, notes []string, err error) {
	words := strings.Fields(strings.ToLower(strings.ReplaceAll(text, "-", " ")))
	words = slices.DeleteFunc(words, func(w string) bool { return slices.Contains(parts, w) })
	var fresh, dried bool
	cut := ""
	for _, w := range words {
		next, isCut := cuts[w]
		switch {
		case w == "fresh" || w == "undried":
			fresh = true
		case w == "dried" || w == "dry":
			dried = true
		case isCut && (cut == "" || cut == next):
			cut = next
		default:
			return text, nil, nil
		}
	}
	switch {
	case fresh && dried:
		return "", nil, trials.Refuse("log the fresh and the dried amount on their own",
			"form %q is both fresh and dried", text)
	case fresh && (cut == "" || cut == "whole"):
		return "fresh", nil, nil
	case fresh && (cut == "cut" || cut == "crushed"):
		return "fresh-cut", nil, nil
	case cut == "" && dried:
		return "whole", []string{"dried is read as whole dried pieces; write cut, crushed or powder if it was"}, nil
	case cut == "":
		return text, nil, nil
	}
	return cut, nil, nil
}
