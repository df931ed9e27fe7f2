package quantity

import (
	"fmt"
	"strings"
	"testing"

	"hedgerow/trials/figure"
)

// describe returns the parts of an addition in one line, for comparison.
func describe(a Addition) string {
	var b strings.Builder
	b.WriteString(a.Kind)
	if a.Material != "" {
		b.WriteString("/" + a.Material)
	}
	if a.TempC != nil {
		fmt.Fprintf(&b, " at %.6g", *a.TempC)
	}
	for _, p := range []struct {
		name  string
		field *figure.Limited
	}{
		{"L", a.VolumeL}, {"g", a.MassG}, {"%", a.StrengthPct}, {"g/L", a.SolidsGPerL}, {"P", a.Plato}, {"sg", a.SG},
		{"og", a.OG}, {"fg", a.FG}, {"retain", a.RetainKgKg}, {"ferments", a.FermentsPct}, {"extracted", a.ExtractedPct},
	} {
		if p.field == nil {
			continue
		}
		fmt.Fprintf(&b, " %s=%.6g", p.name, p.field.Value)
		if p.field.HasLimit {
			fmt.Fprintf(&b, "+-%.6g", p.field.HalfWidth)
		}
	}
	return b.String()
}

// The figures are by hand; a percentage of an amount is a share of it, one of a
// strength is in percentage points.
func TestParseAddition(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"600mL water", "water L=0.6"},
		{"water 600 mL", "water L=0.6"},
		{"600mL water 80C", "water at 80 L=0.6"},
		{"600mL@80C water", "water at 80 L=0.6"},
		{"600 mL of water at 80 C", "water at 80 L=0.6"},
		{"600mL water 176F", "water at 80 L=0.6"},
		{"500g water", "water g=500"},
		{"1 cup water", "water L=0.236588"},
		{"a gallon of water", "water L=3.78541"},
		{"1/2 gal water", "water L=1.89271"},
		{"500mL tea 8g/L", "tea L=0.5 g/L=8"},
		{"500mL tea 0g/L", "tea L=0.5 g/L=0"},
		{"500mL tea 8 g per litre", "tea L=0.5 g/L=8"},
		{"500mL tea", "tea L=0.5"},
		{"500mL infusion", "tea L=0.5"},
		{"250mL spirit 60%", "spirit L=0.25 %=60"},
		{"250mL spirit 60% vol", "spirit L=0.25 %=60"},
		{"60% spirit, 250mL", "spirit L=0.25 %=60"},
		{"250mL+-2% spirit 60+-1% 10+-5g/L", "spirit L=0.25+-0.005 %=60+-1 g/L=10+-5"},
		{"250mL±5mL tincture 60%±1% 10g/L±5g/L", "spirit L=0.25+-0.005 %=60+-1 g/L=10+-5"},
		{"500g sugar", "sugar g=500"},
		{"1 lb 4 oz table sugar", "sugar g=566.99"},
		{"500g sucrose ferments=98%", "sugar g=500 ferments=98"},
		{"150 g dextrose", "dextrose g=150"},
		{"150g corn sugar", "dextrose g=150"},
		{"1 lb honey", "honey g=453.592"},
		{"500g maple", "maple g=500"},
		{"500g maple syrup", "maple g=500"},
		{"500g maple-syrup", "maple g=500"},
		{"500g agave syrup", "agave g=500"},
		{"200g molasses", "molasses g=200"},
		{"1L juice 12P", "juice L=1 P=12"},
		{"1L juice 12+-0.5P", "juice L=1 P=12+-0.5"},
		{"1L juice 1.048", "juice L=1 sg=1.048"},
		{"1kg juice sg=1,048", "juice g=1000 sg=1.048"},
		{"1L wort 12 Plato", "wort L=1 P=12"},
		{"2L beer og=1.050 fg=1.010", "beer L=2 og=1.05 fg=1.01"},
		{"2.5kg raspberry retain=0.5", "material/raspberry g=2500 retain=0.5"},
		{"2.5kg+-1% raspberry retain=0.5+-0.25", "material/raspberry g=2500+-25 retain=0.5+-0.25"},
		{"2.5kg raspberry extracted=90% retain=0.5", "material/raspberry g=2500 retain=0.5 extracted=90"},
		{"2.5kg raspberry extracted=90+-5%", "material/raspberry g=2500 extracted=90+-5"},
		{"2.5 kg of Cherry-Sour", "material/cherry-sour g=2500"},
		{"500g beet", "material/beet g=500"},
	} {
		a, err := ParseAddition(c.text, Options{PlatoToSG: lincoln})
		if err != nil {
			t.Error(err)
		} else if got := describe(a); got != c.want || a.AsWritten != c.text {
			t.Errorf("%q = %s, want %s", c.text, got, c.want)
		}
	}
}

func TestParseAdditionRefuses(t *testing.T) {
	for _, c := range []struct{ text, hint string }{
		{"", "600mL water"},
		{"water", "600mL water"},
		{"600mL", "600mL water"},
		{"600 water", "600mL"},
		{"0mL water", "above zero"},
		{"-1L water", "above zero"},
		{"600mL watr", "water"},
		{"500g sugr", "sugar"},
		{"600mL raspberry", "weigh it"},
		{"500g sugar foo", "500g sugar"},
		{"500g sugar fermets=98%", "ferments"},
		{"500g sugar x=1", "retain"},
		{"600mL water sugar", "on its own"},
		{"2kg sour cherry", "sour-cherry"},
		{"600mL 500g water", "volume or the mass"},
		{"600mL water 300mL", "once"},
		{"600mL water 80C 70C", "one temperature"},
		{"600mL water 80", "unit"},
		{"600mL water 205C", "205 F"},
		{"600mL water 80C+-1C", "80C"},
		{"500g water 80C", "leave the temperature out"},
		{"600mL water 60%", "600mL water"},
		{"250mL spirit", "60%"},
		{"250g spirit 60%", "write a volume"},
		{"250mL spirit 160%", "100%"},
		{"250mL spirit 60% 50%", "once"},
		{"500mL sugar", "weigh it"},
		{"2 tbsp honey", "weigh it"},
		{"500mL tea 8", "8g/L"},
		{"500mL tea -8g/L", "8g/L"},
		{"500mL tea 8kg/L", "8g/L"},
		{"500mL tea 20min", "600mL water"},
		{"500mL tea 1,500g/L", "without the comma"},
		{"1L juice", "12P"},
		{"1L juice 12P 1.048", "one of them"},
		{"1L juice 80P", "12P"},
		{"1L juice -1P", "12P"},
		{"2L beer og=1.050", "fg=1.010"},
		{"2L beer og=1.010 fg=1.050", "swapped"},
		{"2L beer og=1050 fg=1.010", "1.050"},
		{"2.5kg raspberry retain=50%", "retain=0.5"},
		{"2.5kg raspberry retain=-1", "retain=0.5"},
		{"2.5kg raspberry retain=11", "retain=0.5"},
		{"2.5kg raspberry retain", "raspberry-retain"},
		{"2.5kg raspberry retain=", "600mL water"},
		{"500mL raspberry 500g", "volume or the mass"},
		{"1 pint water", "US pint"},
		{"600mL water > 5", "600mL water"},
		{"5 lb mL", "600mL water"},
		{"2 lb fresh raspberry", "600mL water"},
		{"2 lb us", "600mL water"},
		{"1L juice 1", "12P"},
		{"2 gal 1 juice", "600mL"},
	} {
		_, err := ParseAddition(c.text, Options{})
		wantError(t, c.text, err, c.hint)
	}
}

// TestAdditionKinds checks that the hint of every kind is itself understood, and
// as that kind.
func TestAdditionKinds(t *testing.T) {
	for _, rule := range append(kindRules, materialRule) {
		a, err := ParseAddition(rule.hint, Options{})
		if err != nil || a.Kind != rule.words[0] {
			t.Errorf("%q is %q, %v; want %q", rule.hint, a.Kind, err, rule.words[0])
		}
	}
}
