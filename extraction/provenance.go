package extraction

// origin is where a figure comes from.
type origin int

// The origins, from the surest to the least sure kind of knowledge.
const (
	typed      origin = iota // as the brewer gave it
	Measured                 // measured in this steep
	Remembered               // measured before, for this material
	Catalogue                // from the table of materials
	assumed                  // a default of the model
)

// originNames are the words of the origins, indexed by Origin.
var originNames = [...]string{"typed", "measured", "remembered", "catalogue", "default"}

// String returns the word of the origin.
func (o origin) String() string { return wordOf(originNames[:], int(o)) }

// Provenance is one input of a steep with where it comes from.
type Provenance struct {
	// Name says which input, with the pass before it where there are several.
	Name string
	// Value is the figure in Unit.
	Value float64
	// Unit is that of the figure, "1" for a share or factor.
	Unit string
	// Origin is where the figure comes from.
	Origin origin
	// Grade is that of a default: A measured in a cited source, B worked out
	// from one, C our judgement.
	Grade string
	// Source is that of a default, in words.
	Source string
}

// Provenance returns the inputs behind a result, the material's first and then
// pass by pass, each with its origin. It expects a steep that Check accepts.
func (s *Steep) Provenance() []Provenance {
	list := s.materialProvenance()
	stages := s.Stages()
	for i := range stages {
		list = append(list, s.passProvenance(passName(i, len(stages)), &stages[i])...)
	}
	return list
}

// passName returns the prefix of an input of pass i, empty when there is one.
func passName(i, of int) string {
	if of == 1 {
		return ""
	}
	return "pass " + number(float64(i+1)) + " "
}

// materialProvenance lists what belongs to the material.
func (s *Steep) materialProvenance() []Provenance {
	moisture, given := s.moisture()
	origin := s.MoistureOrigin
	source := ""
	if !given {
		origin, source = assumed, "growers dry herbs to about 10 %"
	}
	row := &formRows[s.Form]
	list := []Provenance{
		{Name: "mass", Value: s.MassG, Unit: "g"},
		{Name: "moisture", Value: moisture * 100, Unit: "%", Origin: origin, Source: source},
		fromDefault("form." + row.Name + ".washed"),
	}
	if s.Form != Juice {
		list = append(list, fromDefault("form."+row.Name+".k80"), fromDefault("arrhenius.ea"))
	}
	if s.KappaMLPerG > 0 {
		list = append(list, Provenance{Name: "sorption", Value: s.KappaMLPerG, Unit: "mL/g"})
	}
	if s.SolidsGPerL != nil {
		return append(list, Provenance{Name: "solids of the extract", Value: *s.SolidsGPerL, Unit: "g/L", Origin: Measured})
	}
	if s.Soluble != nil {
		origin := Catalogue
		if s.Soluble.Learned {
			origin = Remembered
		}
		return append(list, Provenance{Name: "dissolved solids", Value: s.Soluble.Share, Unit: "1", Origin: origin})
	}
	return append(list, fromDefault(solubleKey(s.Kind)))
}

// passProvenance lists what belongs to a pass.
func (s *Steep) passProvenance(prefix string, p *Pass) []Provenance {
	var list []Provenance
	add := func(name string, value float64, unit string, o origin) {
		list = append(list, Provenance{Name: prefix + name, Value: value, Unit: unit, Origin: o})
	}
	if !s.Method.IsDirect() {
		add("volume", p.VolumeML, "mL", typed)
	}
	if p.Efficiency != nil {
		add("stage efficiency", *p.Efficiency, "1", typed)
	} else {
		start, given, _ := s.StartC(p)
		add("start temperature", start, "C", originOf(given))
		hottest, end := s.Ends(p)
		if end != start {
			add("end temperature", end, "C", typed)
			add("ambient temperature", ambientC(p), "C", originOf(p.AmbientC != nil || len(p.Curve) > 0))
		}
		minutes := p.Minutes
		if n := len(p.Curve); n > 0 {
			minutes = p.Curve[n-1].Minutes - p.Curve[0].Minutes
		}
		add("time", minutes, "min", originOf(len(s.Passes) > 0))
		g := fromDefault("agitation." + s.agitation(p, hottest))
		g.Name = prefix + g.Name
		list = append(list, g)
	}
	if abv, given := s.abvPct(p); abv > 0 {
		add("strength", abv, "% vol", originOf(given))
	}
	if !s.Method.IsDirect() && p.Separation != LeftIn {
		list = append(list, s.heldProvenance(prefix, p))
	}
	return list
}

// agitation names the default that the agitation of a pass falls under, by the
// rule of Agitation.RateFactor.
func (s *Steep) agitation(p *Pass, hottestC float64) string {
	switch {
	case p.Agitation == NowAndThen:
		return "now-and-then"
	case p.Agitation == Stirred || p.Agitation == rollingBoil || (p.Agitation == unstated && s.IsBoiling(p)):
		return "stirred"
	case hottestC >= StillHotC:
		return "still-hot"
	}
	return "still-cold"
}

// heldProvenance describes the held liquid of a pass by the figure it comes from,
// in the order of plan.heldRule.
func (s *Steep) heldProvenance(prefix string, p *Pass) Provenance {
	switch {
	case p.RecoveredML != nil:
		return Provenance{Name: prefix + "liquid recovered", Value: *p.RecoveredML, Unit: "mL", Origin: Measured}
	case p.HeldML != nil:
		return Provenance{Name: prefix + "held liquid", Value: *p.HeldML, Unit: "mL", Origin: Measured}
	case p.SpentG != nil:
		return Provenance{Name: prefix + "spent material", Value: *p.SpentG, Unit: "g", Origin: Measured}
	}
	if r := s.assumedHeld(p.Separation); r.origin == Remembered || r.perG != s.Kind.HeldMLPerG(p.Separation) {
		return Provenance{Name: prefix + "held liquid", Value: r.perG, Unit: "mL/g dry", Origin: Remembered}
	}
	d := fromDefault(heldKey(s.Kind, p.Separation))
	d.Name = prefix + "held liquid"
	return d
}

// originOf is Typed for what was given and Assumed for the rest.
func originOf(given bool) origin {
	if given {
		return typed
	}
	return assumed
}

// fromDefault turns a default into a line of provenance. Keys are constants of this
// package; a test walks every method and form to see that none is misspelt.
func fromDefault(key string) Provenance {
	d, _ := DefaultFor(key)
	return Provenance{Name: d.Name, Value: d.Value, Unit: d.Unit, Origin: assumed, Grade: d.Grade, Source: d.Source}
}
