package phones

import (
	"crypto/rand"
	"embed"
	"html/template"
	"io"
	"slices"
	"sync"
	"time"

	"hedgerow/trials"
)

// Book is how the pages reach the notebook. Each call is one transaction, and calls may
// come from several requests at once.
type Book struct {
	Read   func() (*trials.Notebook, error) // the records with the scores
	Enter  func(trials.Marks) error         // puts answers in the place of what the taster said of the glass before
	Join   func(name string) error          // gives one more taster an order
	Close  func() error                     // ends the tasting and opens its key
	Result func(io.Writer) error            // writes the page with the result of a tasting that hides nothing any more
}

// Setting is where and how long a tasting is served.
type Setting struct {
	Phones string           // host and port that phones ask for
	Brewer string           // host and port of the brewer's page
	LAN    bool             // phones come over the home network, not from this machine alone
	Until  time.Time        // when it ends by itself
	Now    func() time.Time // the clock
}

// Evening is a tasting that is being served.
type Evening struct {
	Setting
	tastingID string
	book      Book
	pages     *template.Template
	begun     time.Time
	brewer    string // token of the brewer's page
	join      string // token of the page where tasters choose their names
	failures  failures
	changes   changes

	mu    sync.Mutex
	links []*link
}

//go:embed pages
var files embed.FS

// New makes an evening of a tasting and gives each taster who has an order a link.
func New(n *trials.Notebook, t trials.Tasting, b Book, s Setting) (*Evening, error) {
	pages, err := template.ParseFS(files, "pages/*.html")
	if err != nil {
		return nil, err
	}
	v := &Evening{Setting: s, tastingID: t.ID, book: b, pages: pages, begun: s.Now(), brewer: rand.Text(),
		join: rand.Text()}
	v.welcome(n)
	return v, nil
}

// tasting finds the tasting that is served: by its id, for it may be renamed meanwhile.
func (v *Evening) tasting(n *trials.Notebook) (trials.Tasting, bool) {
	return n.TastingByID(v.tastingID)
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
	list := []Link{}
	for _, taster := range n.Expected(v.tastingID) {
		if l := v.linkFor(taster.ID); l != nil {
			list = append(list, Link{taster.Name, v.address(l)})
		}
	}
	return list
}

// BrewerURL is the address of the brewer's page.
func (v *Evening) BrewerURL() string { return "http://" + v.Brewer + v.brewerPath() }

// JoinURL is the address of the page where tasters choose their names.
func (v *Evening) JoinURL() string { return "http://" + v.Phones + "/join/" + v.join }

// clock prints the time of day.
func (v *Evening) clock(at time.Time) string { return at.In(v.Now().Location()).Format("15:04") }
