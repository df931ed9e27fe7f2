package extraction

import (
	"encoding/json"
	"errors"
	"math"
	"testing"
)

// Whatever a check file holds, Evaluate answers with a finite value or an error.
func FuzzEvaluate(f *testing.F) {
	for _, r := range [][2]string{
		{"arrhenius_factor", `{"Ea_kJ":30,"T_C":4}`},
		{"newton_h", `{"T0_C":96,"T1_C":45,"Ta_C":20,"t_min":60}`},
		{"reduced_time_newton", `{"Ea_kJ":30,"T0_C":98,"Ta_C":20,"h_per_min":1e9,"t_min":10}`},
		{"reduced_time_log", `{"Ea_kJ":30,"T_C":[98,92],"t_min":[0,10]}`},
		{"pass_yield_total", `{"m_dm_g":25.2,"passes":[{"V_mL":0,"e":1,"r_mL_per_g":4.5}],"w":0.1}`},
		{"crank_limited_sphere", `{"Fo":0.1,"alpha":1e-9}`},
		{"fo_for_fraction", `{"F":0.999999999,"kind":"slab"}`},
		{"pass_yield_closed", `{"e":0.5,"n":3,"rho":0.5}`},
		{"effective_dose", `{"M":0.1,"Mref":0.1,"S":1,"V_mix_L":1e-300,"Y":1,"f_added":1,"m_g":1e300,"u":1}`},
		{"wash_first_order", `{"k_per_min":null,"tau_min":1,"w":0}`},
		{"", `nonsense`},
	} {
		f.Add(r[0], []byte(r[1]))
	}
	f.Fuzz(func(t *testing.T, quantity string, inputs []byte) {
		value, known, err := Evaluate(quantity, json.RawMessage(inputs))
		if math.IsNaN(value) || math.IsInf(value, 0) {
			t.Errorf("%s %s = %v", quantity, inputs, value)
		}
		if !known && (err != nil || value != 0) {
			t.Errorf("unknown %q: %v, %v", quantity, value, err)
		}
	})
}

// Every word is either read, and then prints as a word that reads the same, or
// refused with a hint.
func FuzzWords(f *testing.F) {
	for _, w := range []string{"whole", "Cut ", "flame-out", "stirred now and then", "left in", "acid-colour-tannin", "", "\x00", "ﬀ"} {
		f.Add(w)
	}
	f.Fuzz(func(t *testing.T, word string) {
		form, err := FormFor(FormWords{Word: word})
		again, err2 := FormFor(FormWords{Word: form.String()})
		if err == nil && (err2 != nil || again != form) {
			t.Errorf("form %q prints as %q", word, form)
		}
		_, class := ParseClass(word)
		_, method := ParseMethod(word)
		_, agitation := ParseAgitation(word)
		_, separation := ParseSeparation(word)
		for _, err := range []error{err, class, method, agitation, separation} {
			var refused *InputError
			if err != nil && (!errors.As(err, &refused) || refused.Hint == "") {
				t.Errorf("%q: %v without a hint", word, err)
			}
		}
	})
}
