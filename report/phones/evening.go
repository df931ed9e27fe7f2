package phones

import (
	"embed"
	"html/template"
	"slices"
	"sync"
	"time"

	"hedgerow/trials"
)

// Book is how the pages reach the notebook. Each call is one transaction, and calls may
// come from several requests at once.
type Book struct {
	Read  func() (*trials.Notebook, error) // the records with the scores
	Enter func(trials.Marks) error         // puts answers in the place of what the taster said of the glass before
}

// Evening is a tasting that is being served.
type Evening struct {
	tastingID string
	book      Book
	host      string           // of the links, with its port
	now       func() time.Time // the clock
	pages     *template.Template
	failures  failures

	mu    sync.Mutex
	links []*link
}

//go:embed pages
var files embed.FS

// New makes an evening of a tasting and gives each taster who has an order a link.
// Host and port are those that phones will ask for.
func New(n *trials.Notebook, t trials.Tasting, b Book, host string, now func() time.Time) (*Evening, error) {
	pages, err := template.ParseFS(files, "pages/*.html")
	if err != nil {
		return nil, err
	}
	v := &Evening{tastingID: t.ID, book: b, host: host, now: now, pages: pages}
	v.welcome(n)
	return v, nil
}

// tasting finds the tasting that is served: by its id, for it may be renamed meanwhile.
func (v *Evening) tasting(n *trials.Notebook) (trials.Tasting, bool) {
	i := slices.IndexFunc(n.Tastings, func(t trials.Tasting) bool { return t.ID == v.tastingID })
	if i < 0 {
		return trials.Tasting{}, false
	}
	return n.Tastings[i], true
}

// welcome gives each taster who has an order, and no link yet, a link.
func (v *Evening) welcome(n *trials.Notebook) {
	v.mu.Lock()
	defer v.mu.Unlock()
	for _, taster := range n.Expected(v.tastingID) {
		if !slices.ContainsFunc(v.links, func(l *link) bool { return l.tasterID == taster.ID }) {
			v.links = append(v.links, newLink(taster.ID))
		}
	}
}

// Link is the address of a taster's page.
type Link struct {
	Taster string `json:"taster"` // name of the taster
	URL    string `json:"link"`   // unguessable; whoever has it scores as this taster
}

// Links lists the addresses of all tasters, by name.
func (v *Evening) Links(n *trials.Notebook) []Link {
	v.welcome(n)
	v.mu.Lock()
	defer v.mu.Unlock()
	var list []Link
	for _, taster := range n.Expected(v.tastingID) {
		for _, l := range v.links {
			if l.tasterID == taster.ID {
				list = append(list, Link{taster.Name, v.address(l)})
			}
		}
	}
	return list
}

// address is where the page of a link is.
func (v *Evening) address(l *link) string { return "http://" + v.host + "/t/" + l.token }
