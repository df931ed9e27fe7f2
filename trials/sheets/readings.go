package sheets

import (
	"time"

	"hedgerow/trials"
)

// Reading is one row of a list of readings.
type Reading struct {
	Line        int       `json:"line"`                    // where its row starts
	Batch       string    `json:"batch"`                   // name of the batch
	At          time.Time `json:"at"`                      // when it was read
	SG          *float64  `json:"sg,omitempty"`            // as shown
	SampleTempC *float64  `json:"sample_temp_c,omitempty"` // of the sample
	BeerTempC   *float64  `json:"beer_temp_c,omitempty"`   // of the beer
	PH          *float64  `json:"ph,omitempty"`            // as shown
	VolumeL     *float64  `json:"volume_l,omitempty"`      // litres
	Note        string    `json:"note,omitempty"`          // free text
}

// readings reads a list of readings. Two alike are read once, and one that the
// notebook has is not read again.
func (r *reader) readings() {
	r.sayTemperature()
	type seen struct {
		batch, figures string
	}
	known := map[seen]bool{}
	for _, k := range r.n.Readings {
		known[seen{k.BatchID, readingKey(k)}] = true
	}
	inSheet := map[seen]int{}
	names := eventNames{taken: map[string]int{}}
	for _, k := range r.n.Readings {
		names.note(k.Name)
	}
	for _, w := range r.rows {
		read, record, ok := r.readingOf(w)
		if !ok {
			continue
		}
		at := seen{record.BatchID, readingKey(record)}
		if line, twice := inSheet[at]; twice {
			r.remark("copied", w.line, nil, "line %d is read once: it stands in line %d too", w.line, line)
			continue
		}
		inSheet[at] = w.line
		if known[at] {
			r.sheet.Already++
			continue
		}
		record.Name = names.next(read.Batch + ".r")
		r.sheet.Readings = append(r.sheet.Readings, read)
		r.sheet.New.Readings = append(r.sheet.New.Readings, record)
	}
}

// sayTemperature says whose temperature a column called Temp is.
func (r *reader) sayTemperature() {
	c := r.with(roleBeerTemp)
	if c != nil && roleOf(titleWords(c.title)) != roleBeerTemp {
		r.remark("beer_temperature", r.headerLine, c,
			"%s is taken for the temperature of the beer; title it Sample temp if it corrects the hydrometer", c.title)
	}
}

// titleWords is a title without what stands in brackets.
func titleWords(title string) string {
	before, _, after, _ := bracketed(title)
	return before + " " + after
}

// readingOf reads one row.
func (r *reader) readingOf(w row) (Reading, trials.Reading, bool) {
	before := r.doubts()
	read := Reading{Line: w.line, Note: r.note(w, r.with(roleNote))}
	b, ok := r.rowBeer(w)
	if ok {
		read.Batch = b.Name
		read.At, _ = r.eventAt(w, b, "reading")
	}
	read.SG, read.PH = r.gravityIn(w, roleSG), r.numberIn(w, rolePH)
	if c := r.with(roleSampleTemp); c != nil {
		read.SampleTempC = r.amount(w, c, r.temperatures())
	}
	if c := r.with(roleBeerTemp); c != nil {
		read.BeerTempC = r.amount(w, c, r.temperatures())
	}
	if c := r.with(roleVolume); c != nil {
		read.VolumeL = r.amount(w, c, r.volumes())
	}
	record := trials.Reading{Record: trials.Record{ID: trials.NewID()}, BatchID: b.ID, At: read.At, SG: read.SG,
		SampleTempC: read.SampleTempC, PH: read.PH, BeerTempC: read.BeerTempC, VolumeL: read.VolumeL, Note: read.Note}
	if !ok || r.doubts() > before {
		return read, record, false
	}
	if err := record.Validate(); err != nil {
		why, do := faultOf(err)
		r.fault(w.line, r.with(roleBatch), read.Batch, why, do)
		return read, record, false
	}
	return read, record, true
}

// rowBeer finds the batch of a row of events.
func (r *reader) rowBeer(w row) (trials.Batch, bool) {
	c := r.with(roleBatch)
	if c == nil {
		r.once(r.headerLine, r.columns[0], "batch", "no column names the batch", "add a column Batch")
		return trials.Batch{}, false
	}
	return r.beer(w, c)
}

// eventAt is when an event of a batch happened, which cannot be before the batch
// began.
func (r *reader) eventAt(w row, b trials.Batch, what string) (time.Time, bool) {
	c := r.with(roleDate)
	if c == nil {
		r.once(r.headerLine, r.columns[0], "date", "no column says when it was", "add a column Date")
		return time.Time{}, false
	}
	at, ok := r.date(w, c, b.StartedAt)
	if !ok {
		if isEmpty(r.cleaned(w, c)) {
			r.fault(w.line, c, "", "the date is missing", "write when it was, such as 2025-03-15 or 2025-03-15 18:30")
		}
		return at, false
	}
	if err := r.n.CheckTime(b, what, at, false); err != nil {
		why, _ := faultOf(err)
		text, _ := r.value(w, c)
		r.fault(w.line, c, text, why, "correct the date, or when the batch began: hedgerow batch edit "+b.Name+" --at ...")
		return at, false
	}
	return at, true
}

// readingKey tells readings of a batch apart.
func readingKey(k trials.Reading) string {
	return keyOf(k.At, k.SG, k.SampleTempC, k.PH, k.BeerTempC, k.VolumeL) + k.Note
}
