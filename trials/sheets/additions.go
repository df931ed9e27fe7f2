package sheets

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"hedgerow/trials"
	"hedgerow/trials/idiom"
)

// Addition is one row of a list of what went in.
type Addition struct {
	Line        int       `json:"line"`                 // where its row starts
	Batch       string    `json:"batch"`                // name of the batch
	At          time.Time `json:"at"`                   // when it went in
	MaterialKey string    `json:"material_key"`         // key of the material
	Form        string    `json:"form,omitempty"`       // as the product is
	Method      string    `json:"method"`               // way in
	Stage       string    `json:"stage"`                // boil, secondary ...
	MassG       *float64  `json:"mass_g,omitempty"`     // grams
	Minutes     *float64  `json:"minutes,omitempty"`    // how long it was in
	StartC      *float64  `json:"start_c,omitempty"`    // temperature
	WaterL      *float64  `json:"water_l,omitempty"`    // of a tea, litres
	Separation  string    `json:"separation,omitempty"` // of a tea
	Note        string    `json:"note,omitempty"`       // free text

	lot       string
	inBag     bool
	spiritPct float64
}

// additions reads a list of what went in. Two rows alike are asked about: they may
// be one that was copied, or two.
func (r *reader) additions() {
	known := map[string]int{}
	names := eventNames{taken: map[string]int{}}
	for _, a := range r.n.Additions {
		known[r.additionKey(a)]++
		names.note(a.Name)
	}
	inSheet := map[string]int{}
	for _, w := range r.rows {
		read, b, ok := r.additionOf(w)
		if !ok {
			continue
		}
		a, x := read.records(b)
		if err := r.checkAddition(w, read, a, x); err != nil {
			continue
		}
		key := r.keyWith(a, x)
		if line, twice := inSheet[key]; twice && !r.bothTwins(w, line, read) {
			continue
		}
		inSheet[key] = w.line
		if known[key] > 0 {
			known[key]--
			r.sheet.Already++
			continue
		}
		a.Name = names.next(read.Batch + ".a")
		if x != nil {
			x.Name = strings.ReplaceAll(a.Name, ".", "-")
			r.sheet.New.Extracts = append(r.sheet.New.Extracts, *x)
		}
		r.sheet.Additions = append(r.sheet.Additions, read)
		r.sheet.New.Additions = append(r.sheet.New.Additions, a)
	}
}

// bothTwins asks whether two rows alike are two additions.
func (r *reader) bothTwins(w row, line int, read Addition) bool {
	q := Ask{About: "twins", Key: fmt.Sprintf("line %d", w.line), Line: w.line, Value: read.MaterialKey,
		Options: []string{"both: it went in twice", "once: it was copied"},
		Text:    fmt.Sprintf("lines %d and %d say the same of %s", line, w.line, read.Batch)}
	answer, given := r.ask(q, r.with(roleMaterial), false)
	if given && answer == "once" {
		r.leave(w.line)
	}
	return given && answer == "both"
}

// additionKey tells additions apart, those by a tea by what was steeped.
func (r *reader) additionKey(a trials.Addition) string {
	if a.ExtractID == nil {
		return r.keyWith(a, nil)
	}
	x, ok := r.n.ExtractByID(*a.ExtractID)
	if !ok {
		return a.ID
	}
	return r.keyWith(a, &x)
}

// keyWith is the text by which an addition with its extract is told apart.
func (r *reader) keyWith(a trials.Addition, x *trials.Extract) string {
	if x == nil {
		return keyOf(a.At, a.MassG, a.Minutes, a.StartC) + strings.Join([]string{a.BatchID, a.MaterialKey, a.Form, a.Method,
			a.Note, a.Lot}, "|")
	}
	figures := []*float64{&x.MassG}
	for i := range x.Passes {
		figures = append(figures, &x.Passes[i].VolumeL, &x.Passes[i].StartC, &x.Passes[i].Minutes)
	}
	return keyOf(a.At, figures...) + strings.Join([]string{a.BatchID, x.MaterialKey, x.Form, x.Method, a.Note, x.Lot}, "|")
}

// additionOf reads one row.
func (r *reader) additionOf(w row) (Addition, trials.Batch, bool) {
	before := r.doubts()
	read := Addition{Line: w.line, Note: r.note(w, r.with(roleNote)), lot: r.word(w, r.with(roleLot))}
	b, ok := r.rowBeer(w)
	if ok {
		read.Batch = b.Name
		read.At, _ = r.eventAt(w, b, "addition")
	}
	m, found := r.material(w, r.with(roleMaterial))
	read.MaterialKey = m.Key
	r.wayIn(w, &read, b)
	r.formOf(w, &read)
	read.MassG = r.weighed(w, b, ok)
	if c := r.with(roleTime); c != nil {
		read.Minutes = r.amount(w, c, r.durations())
	}
	if c := r.with(roleTemp); c != nil {
		read.StartC = r.amount(w, c, r.temperatures())
	}
	if c := r.with(roleWater); c != nil {
		read.WaterL = r.amount(w, c, r.volumes())
	}
	read.Separation = strings.ToLower(r.word(w, r.with(roleSeparation)))
	return read, b, ok && found && r.doubts() == before
}

// wayIn reads how it went in.
func (r *reader) wayIn(w row, read *Addition, b trials.Batch) {
	c := r.with(roleMethod)
	text := r.word(w, c)
	if text == "" {
		if c == nil {
			r.once(r.headerLine, r.columns[0], "way", "no column says how it went in", "add a column How: "+
				strings.Join(trials.Methods, ", "))
		} else if isEmpty(r.cleaned(w, c)) {
			r.fault(w.line, c, "", "how it went in is missing", "write one of "+strings.Join(trials.Methods, ", "))
		}
		return
	}
	way, err := idiom.WayOf(text)
	if err == nil {
		way.Method = strings.ToLower(way.Method)
		err = trials.CheckMethod(way.Method)
	}
	if err != nil {
		why, do := faultOf(err)
		r.fault(w.line, c, text, why, do)
		return
	}
	for _, note := range way.Notes {
		r.remark("way", w.line, c, "%s", note)
	}
	read.Method, read.inBag, read.spiritPct = way.Method, way.InBag, way.SpiritPct
	read.Stage = idiom.Stage(strings.ToLower(r.word(w, r.with(roleStage))))
	if read.Stage == "" {
		read.Stage = way.Stage
	}
	if read.Stage == "" {
		read.Stage = stageOf(read.Method, b)
	}
}

// stageOf is the stage at which a method most likely goes in.
func stageOf(method string, b trials.Batch) string {
	switch {
	case method == trials.MethodBoil:
		return trials.StageBoil
	case method == trials.MethodFlameOut:
		return trials.StageFlameOut
	case b.Kind == trials.KindGlass:
		return trials.StageGlass
	}
	return trials.StageSecondary
}

// formOf reads the form of the material.
func (r *reader) formOf(w row, read *Addition) {
	c := r.with(roleForm)
	text := r.word(w, c)
	if text == "" {
		if read.Method == trials.MethodJuice || read.Method == trials.MethodPuree {
			read.Form = read.Method
		} else if c == nil || isEmpty(r.cleaned(w, c)) {
			r.fault(w.line, c, "", "the form is missing", "write one of "+strings.Join(trials.Forms, ", "))
		}
		return
	}
	form, notes, err := idiom.Form(text)
	if err != nil {
		why, do := faultOf(err)
		r.fault(w.line, c, text, why, do)
		return
	}
	for _, note := range notes {
		r.remark("form", w.line, c, "%s", note)
	}
	if !slices.Contains(trials.Forms, form) {
		r.fault(w.line, c, text, "the form is not known", "write one of "+strings.Join(trials.Forms, ", "))
	}
	read.Form = form
}

// doseDisagrees is how far dose and weight may be apart before it is said.
const doseDisagrees = 0.05

// weighed is the weight of a row: as weighed, else worked out of the dose and the
// litres of the batch.
func (r *reader) weighed(w row, b trials.Batch, known bool) *float64 {
	amount, dose := r.with(roleAmount), r.with(roleDose)
	before := r.doubts()
	var mass, rate *float64
	if amount != nil {
		mass = r.amount(w, amount, r.masses())
	}
	if dose != nil {
		rate = r.amount(w, dose, r.doses())
	}
	switch {
	case r.doubts() > before || !known:
		return mass
	case mass == nil && rate == nil:
		r.fault(w.line, amount, "", "the weight is missing", "write how much went in, such as 40 g")
		return nil
	case mass == nil:
		worked := trials.Tidy(*rate * b.VolumeL)
		r.remark("dose_to_mass", w.line, dose, "%s g of %s: %s g/L in the %s L of %s", trials.Number(trials.Round3(worked)),
			r.word(w, r.with(roleMaterial)), trials.Number(trials.Round3(*rate)), trials.Number(b.VolumeL), b.Name)
		return &worked
	}
	if rate != nil {
		if off := *mass/(*rate*b.VolumeL) - 1; math.Abs(off) > doseDisagrees {
			r.remark("dose_mismatch", w.line, dose, "the weight %s g counts; the dose of %s g/L in %s L would be %s g",
				trials.Number(trials.Round3(*mass)), trials.Number(trials.Round3(*rate)), trials.Number(b.VolumeL),
				trials.Number(trials.Round3(*rate*b.VolumeL)))
		}
	}
	return mass
}

// records returns the addition as it would be written, and the extract it pours of,
// nil for what goes in itself.
func (a Addition) records(b trials.Batch) (trials.Addition, *trials.Extract) {
	out := trials.Addition{Record: trials.Record{ID: trials.NewID()}, BatchID: b.ID, At: a.At, Stage: a.Stage,
		Note: a.Note}
	if !steeped(a.Method) {
		out.MaterialKey, out.Method, out.Form, out.MassG = a.MaterialKey, a.Method, a.Form, a.MassG
		out.Minutes, out.StartC, out.InBag, out.Lot = a.Minutes, a.StartC, a.inBag, a.lot
		return out, nil
	}
	x := &trials.Extract{Record: trials.Record{ID: trials.NewID()}, MadeAt: a.At, MaterialKey: a.MaterialKey,
		Method: a.Method, Form: a.Form, Lot: a.lot}
	if a.MassG != nil {
		x.MassG = *a.MassG
	}
	if a.spiritPct > 0 {
		x.SpiritPct = &a.spiritPct
	}
	p := trials.Pass{ID: trials.NewID(), Separation: a.Separation, InBag: a.inBag}
	if p.Separation == "" {
		p.Separation = trials.SeparationDrained
	}
	for _, f := range []struct {
		to   *float64
		from *float64
	}{{&p.VolumeL, a.WaterL}, {&p.StartC, a.StartC}, {&p.Minutes, a.Minutes}} {
		if f.from != nil {
			*f.to = *f.from
		}
	}
	x.Passes = []trials.Pass{p}
	out.ExtractID = &x.ID
	return out, x
}

// steeped reports whether a method makes an extract first.
func steeped(method string) bool {
	return method == trials.MethodTea || method == trials.MethodColdTea || method == trials.MethodTincture
}

// checkAddition puts a row through the checks of typed input.
func (r *reader) checkAddition(w row, read Addition, a trials.Addition, x *trials.Extract) error {
	c := r.with(roleMaterial)
	var err error
	switch {
	case x == nil:
		err = a.Validate()
	case read.WaterL == nil || read.StartC == nil || read.Minutes == nil:
		err = trials.Refuse("give the columns Water, Temp and Time, or log it with: hedgerow addition add "+read.Batch+
			` ... --pass "400mL 96C>60C 30min drained"`, "a %s needs its water, temperature and time", read.Method)
	default:
		err = x.Validate()
	}
	if err != nil {
		why, do := faultOf(err)
		r.fault(w.line, c, read.MaterialKey, why, do)
	}
	return err
}
