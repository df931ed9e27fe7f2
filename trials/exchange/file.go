package exchange

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"hedgerow/trials"
)

// Format and Version name the file.
const (
	format  = "hedgerow-export"
	version = 1
)

// records are the records of a file by kind, in the order in which they are written.
type records struct {
	Materials    []trials.OwnMaterial `json:"material"`
	Meters       []trials.Meter       `json:"meter"`
	Calibrations []trials.Calibration `json:"calibration"`
	Batches      []trials.Batch       `json:"batch"`
	Losses       []trials.Loss        `json:"loss"`
	Packagings   []trials.Packaging   `json:"packaging"`
	BatchNotes   []trials.BatchNote   `json:"batch_note"`
	Extracts     []trials.Extract     `json:"extract"`
	Additions    []trials.Addition    `json:"addition"`
	Readings     []trials.Reading     `json:"reading"`
	Claims       []trials.Claim       `json:"claim"`
	Tasters      []trials.Taster      `json:"taster"`
	Tastings     []trials.Tasting     `json:"tasting"`
	Servings     []trials.Serving     `json:"serving"`
	Places       []trials.Place       `json:"place"`
	Scores       []trials.Score       `json:"score"`
	TasterNotes  []trials.TasterNote  `json:"taster_note"`
	Marks        []trials.Mark        `json:"mark"`
	Plans        []trials.Plan        `json:"plan"`
	ToTastes     []trials.ToTaste     `json:"to_taste"`
	Droppers     []trials.Dropper     `json:"dropper"`
	Dosings      []trials.Dosing      `json:"dosing"`
	Suggestions  []trials.Suggestion  `json:"suggestion"`
	Settings     []setting            `json:"setting"`
}

// setting is one thing the user has set.
type setting struct {
	Key   string `json:"key"`
	Value string `json:"value"`
}

// file is the whole file.
type file struct {
	Format   string  `json:"format"`
	Version  int     `json:"version"`
	Notebook string  `json:"notebook"`
	Records  records `json:"records"`
}

// sorted returns a copy of a list in the order of an id; never null.
func sorted[T any](list []T, id func(T) string) []T {
	out := append([]T{}, list...)
	slices.SortFunc(out, func(a, b T) int { return cmp.Compare(id(a), id(b)) })
	return out
}

// Write writes everything that a notebook holds.
func Write(w io.Writer, n *trials.Notebook) error {
	f := file{Format: format, Version: version, Notebook: n.Settings[trials.SettingNotebookID], Records: records{
		Materials:    sorted(n.Materials, func(r trials.OwnMaterial) string { return r.ID }),
		Meters:       sorted(n.Meters, func(r trials.Meter) string { return r.ID }),
		Calibrations: sorted(n.Calibrations, func(r trials.Calibration) string { return r.ID }),
		Batches:      sorted(n.Batches, func(r trials.Batch) string { return r.ID }),
		Losses:       sorted(n.Losses, func(r trials.Loss) string { return r.ID }),
		Packagings:   sorted(n.Packagings, func(r trials.Packaging) string { return r.ID }),
		BatchNotes:   sorted(n.BatchNotes, func(r trials.BatchNote) string { return r.ID }),
		Extracts:     sorted(n.Extracts, func(r trials.Extract) string { return r.ID }),
		Additions:    sorted(n.Additions, func(r trials.Addition) string { return r.ID }),
		Readings:     sorted(n.Readings, func(r trials.Reading) string { return r.ID }),
		Claims:       sorted(n.Claims, func(r trials.Claim) string { return r.ID }),
		Tasters:      sorted(n.Tasters, func(r trials.Taster) string { return r.ID }),
		Tastings:     sorted(n.Tastings, func(r trials.Tasting) string { return r.ID }),
		Servings:     sorted(n.Servings, func(r trials.Serving) string { return r.ID }),
		Places:       sorted(n.Places, func(r trials.Place) string { return r.ID }),
		Scores:       sorted(n.Scores, func(r trials.Score) string { return r.ID }),
		TasterNotes:  sorted(n.TasterNotes, func(r trials.TasterNote) string { return r.ID }),
		Marks:        sorted(n.Marks, func(r trials.Mark) string { return r.ID }),
		Plans:        sorted(n.Plans, func(r trials.Plan) string { return r.ID }),
		ToTastes:     sorted(n.ToTastes, func(r trials.ToTaste) string { return r.ID }),
		Droppers:     sorted(n.Droppers, func(r trials.Dropper) string { return r.ID }),
		Dosings:      sorted(n.Dosings, func(r trials.Dosing) string { return r.ID }),
		Suggestions:  sorted(n.Suggestions, func(r trials.Suggestion) string { return r.ID }),
		Settings:     settingsOf(n),
	}}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(f)
}

// settingsOf are the settings of a notebook but for its id, by key.
func settingsOf(n *trials.Notebook) []setting {
	list := []setting{}
	for key, value := range n.Settings {
		if key != trials.SettingNotebookID {
			list = append(list, setting{key, value})
		}
	}
	return sorted(list, func(s setting) string { return s.Key })
}

// mostBytes is the largest file that is read, far above any notebook (common
// practice, no source).
const mostBytes = 512 << 20

// Read reads a file into a notebook. Another format, a later version, and kinds or
// keys that are not known are refused, each record that has one by name.
func Read(r io.Reader) (*trials.Notebook, error) {
	text, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read the export: %w", err)
	}
	if len(text) > mostBytes {
		return nil, trials.Refuse("it is no export of a notebook", "the file is longer than %d MiB", mostBytes>>20)
	}
	var head struct {
		Format   string                     `json:"format"`
		Version  *json.Number               `json:"version"`
		Notebook string                     `json:"notebook"`
		Records  map[string]json.RawMessage `json:"records"`
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if err := json.Unmarshal(text, &head); err != nil {
		return nil, trials.Refuse("ask for it again: the file may be cut off; hedgerow export FILE.json writes one",
			"the export cannot be read: %s", jsonError(err))
	}
	if err := checkHead(head.Format, head.Version); err != nil {
		return nil, err
	}
	n := &trials.Notebook{Settings: map[string]string{}}
	var settings []setting
	lists := listsOf(n, &settings)
	for kind, raw := range head.Records {
		read, known := lists[kind]
		if !known {
			return nil, trials.Refuse("install the newer hedgerow that wrote it", "the export has records of a kind %q", kind)
		}
		if err := read(kind, raw); err != nil {
			return nil, err
		}
	}
	for _, s := range settings {
		n.Settings[s.Key] = s.Value
	}
	n.Settings[trials.SettingNotebookID] = head.Notebook
	return n, nil
}

// checkHead refuses another format, and a version that is missing or later.
func checkHead(name string, v *json.Number) error {
	foreign := func(hint, text string, args ...any) error {
		return &trials.Problem{Code: trials.ForeignNotebook, Message: fmt.Sprintf(text, args...), Hint: hint}
	}
	if name != format {
		return foreign("name a file that hedgerow export FILE.json wrote", "the file is no export of a hedgerow notebook")
	}
	if v == nil {
		return foreign("ask for it again", "the export does not say its version")
	}
	number, err := v.Int64()
	if err != nil || number < 1 {
		return foreign("ask for it again", "the export has the version %s, which never was", v)
	}
	if number > version {
		return foreign(fmt.Sprintf("install the newer hedgerow, or ask for an export of version %d", version),
			"the export was written by a newer hedgerow: version %d, this program reads up to %d", number, version)
	}
	return nil
}

// jsonError says in a few words where a text is no JSON.
func jsonError(err error) string {
	var at *json.SyntaxError
	if errors.As(err, &at) {
		return fmt.Sprintf("it breaks off or is damaged at byte %d", at.Offset)
	}
	var wrong *json.UnmarshalTypeError
	if errors.As(err, &wrong) {
		return fmt.Sprintf("%s is a %s", wrong.Field, wrong.Value)
	}
	var when *time.ParseError
	if errors.As(err, &when) {
		return when.Value + " is no time such as 2026-03-01T18:30:00Z"
	}
	return err.Error()
}

// listsOf returns for each kind what reads its records into a notebook.
func listsOf(n *trials.Notebook, settings *[]setting) map[string]func(string, json.RawMessage) error {
	return map[string]func(string, json.RawMessage) error{
		"material": into(&n.Materials), "meter": into(&n.Meters), "calibration": into(&n.Calibrations),
		"batch": into(&n.Batches), "loss": into(&n.Losses), "packaging": into(&n.Packagings),
		"batch_note": into(&n.BatchNotes), "extract": into(&n.Extracts), "addition": into(&n.Additions),
		"reading": into(&n.Readings), "claim": into(&n.Claims), "taster": into(&n.Tasters),
		"tasting": into(&n.Tastings), "serving": into(&n.Servings), "place": into(&n.Places), "score": into(&n.Scores),
		"taster_note": into(&n.TasterNotes), "mark": into(&n.Marks), "plan": into(&n.Plans), "setting": into(settings),
		"to_taste": into(&n.ToTastes), "dropper": into(&n.Droppers), "dosing": into(&n.Dosings),
		"suggestion": into(&n.Suggestions),
	}
}

// into reads the records of one kind into a list, each by itself, so that a refusal
// can name it.
func into[T any](list *[]T) func(string, json.RawMessage) error {
	return func(kind string, raw json.RawMessage) error {
		var each []json.RawMessage
		if err := json.Unmarshal(raw, &each); err != nil {
			return trials.Refuse("ask for it again", "the records of kind %q are no list", kind)
		}
		for i, one := range each {
			var record T
			d := json.NewDecoder(bytes.NewReader(one))
			d.DisallowUnknownFields()
			if err := d.Decode(&record); err != nil {
				return trials.Refuse("correct it, or install the newer hedgerow that wrote it", "%s cannot be read: %s",
					called(kind, i, one), strings.TrimPrefix(jsonError(err), "json: "))
			}
			*list = append(*list, record)
		}
		return nil
	}
}

// called is the name of a record as far as it can be told, else its place.
func called(kind string, i int, raw json.RawMessage) string {
	var r struct {
		ID   string `json:"id"`
		Name string `json:"name"`
	}
	kind = strings.ReplaceAll(kind, "_", " ")
	switch err := json.Unmarshal(raw, &r); {
	case err == nil && r.Name != "":
		return fmt.Sprintf("%s %q (%s)", kind, r.Name, r.ID)
	case err == nil && r.ID != "":
		return fmt.Sprintf("%s %s", kind, r.ID)
	}
	return fmt.Sprintf("%s number %d", kind, i+1)
}
