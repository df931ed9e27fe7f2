package ledger

import (
	"testing"

	"hedgerow/dilution"
)

// handStep is the batch after one event of the ledger worked by hand.
type handStep struct {
	what                                  string
	waterKg, ethanolKg, extractKg         float64
	volumeL, gravitySG, abvPct, original  float64
	teaGPerL, teaWeighedGPerL             float64 // effective and as-weighed dose of the heather
	bitternessIBU, keptSinceTheTea, added float64
}

// The masses were computed independently, by a short program in another
// language that has only the published equations (OIML R 22, SPS-4, Balling,
// every power written out) and finds each root by 200 halvings. The reasons
// stand beside the steps; the amounts that need no equation are worked in the
// comments.
var handSteps = []handStep{
	// 1.050 is 12.39746 P; 20 L weigh 20 x 1.050 x 0.9982012 = 20.96223 kg, of
	// which 12.39746 % are extract. At the expected 1.010 there would be 0.900741
	// kg of it left: that much does not ferment.
	{what: "start", waterKg: 18.363441, extractKg: 2.598784, volumeL: 20, gravitySG: 1.050, original: 1.050,
		bitternessIBU: 25},
	// 0.931283 kg of extract gone bring the gravity to 1.0280; 1/2.0665 of it is
	// ethanol. The original gravity is a fact of the wort and stays.
	{what: "read 1.0280", waterKg: 18.363441, ethanolKg: 0.450657, extractKg: 1.667501, volumeL: 19.95964,
		gravitySG: 1.028, abvPct: 2.86079, original: 1.050, bitternessIBU: 25.05055},
	// 60 g of heather at 10 % water are 54 g dry. With 6.011 mL of its own water and
	// 0.60 x 0.33 x 54 mL of what dissolves there are 1016.703 mL, of which 259.703 mL
	// are measured as held: 757 mL come out, with 12 g/L x 0.757 L = 9.084 g dissolved that do
	// not ferment. 60 min at 90 C are 79 min at 80 C, K = 0.35 x 79 = 28: all is
	// dissolved, and 757/1016.703 of it is in the liquid. Water carries 0.85 of its
	// class, so 60 x 0.85 x 0.744564 = 37.9728 g are in 20.71671 L.
	{what: "tea", waterKg: 19.113499, ethanolKg: 0.450657, extractKg: 1.676585, volumeL: 20.71671, gravitySG: 1.027143,
		abvPct: 2.75624, original: 1.048353,
		teaGPerL: 1.832953, teaWeighedGPerL: 2.896213, keptSinceTheTea: 1, added: 0.757, bitternessIBU: 500 / 20.71671},
	// The jar takes 0.3/20.71671 of everything: no g/L changes.
	{what: "sample", waterKg: 18.836716, ethanolKg: 0.444131, extractKg: 1.652306, volumeL: 20.41671,
		gravitySG: 1.027143, abvPct: 2.75624, original: 1.048353,
		teaGPerL: 1.832953, teaWeighedGPerL: 2.896213, keptSinceTheTea: 0.985519, bitternessIBU: 500 / 20.71671},
	// The float is made for 20 C: 1.0160 at 25 C is a density of 1014.0457 kg/m3
	// there (glass grows by 25e-6 per C). 0.433090 kg of extract gone give it; the
	// same beer is 1.017187 at 20 C. The strength counts from the diluted
	// 1.048353, not from 1.050.
	{what: "read 1.0160 at 25 C", waterKg: 18.836716, ethanolKg: 0.653708, extractKg: 1.219217, volumeL: 20.39640,
		gravitySG: 1.017187, abvPct: 4.06089, original: 1.048353,
		teaGPerL: 1.834778, teaWeighedGPerL: 2.899097, keptSinceTheTea: 0.985519, bitternessIBU: 500 * 0.9855189 / 20.39640},
	// Raspberries (USDA Standard Reference: 85.75 % water, 4.42 % sugars, 1.48 %
	// other solubles): 2 kg bring 1.715 kg of water and 0.0884 + 0.0296 kg of
	// extract. The rest is pulp and no liquid.
	{what: "fruit", waterKg: 20.551716, ethanolKg: 0.653708, extractKg: 1.337217, volumeL: 22.18770,
		gravitySG: 1.017828, abvPct: 3.73304, original: 1.046510,
		teaGPerL: 1.686649, teaWeighedGPerL: 2.665041, keptSinceTheTea: 0.985519, bitternessIBU: 500 * 0.9855189 / 22.18770},
	// A week later the pulp takes 2 x 0.5 = 1 kg of the 22.54264 kg along.
	{what: "pulp out", waterKg: 19.640034, ethanolKg: 0.624709, extractKg: 1.277897, volumeL: 21.20345,
		gravitySG: 1.017828, abvPct: 3.73304, original: 1.046510,
		teaGPerL: 1.686649, teaWeighedGPerL: 2.665041, keptSinceTheTea: 0.941801, bitternessIBU: 500 * 0.9418009 / 21.20345},
	// 0.376903 kg of extract gone. 1.0095 alone would mislead: the gravities
	// 1.050 and 1.0095 times 131.25 say 5.3 % vol, half a per cent too much.
	{what: "read 1.0095", waterKg: 19.640034, ethanolKg: 0.807096, extractKg: 0.900994, volumeL: 21.18533,
		gravitySG: 1.0095, abvPct: 4.82705, original: 1.046510,
		teaGPerL: 1.688091, teaWeighedGPerL: 2.667320, keptSinceTheTea: 0.941801, bitternessIBU: 500 * 0.9418009 / 21.18533},
	// 0.8 L of 21.18533 L stay behind; again no figure per litre changes.
	{what: "transfer", waterKg: 18.898387, ethanolKg: 0.776619, extractKg: 0.866971, volumeL: 20.38533,
		gravitySG: 1.0095, abvPct: 4.82705, original: 1.046510,
		teaGPerL: 1.688091, teaWeighedGPerL: 2.667320, keptSinceTheTea: 0.906237, bitternessIBU: 22.227664},
}

func TestLedgerByHand(t *testing.T) {
	n, b := handBatch()
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Steps) != len(handSteps) {
		t.Fatalf("%d steps, want %d", len(l.Steps), len(handSteps))
	}
	// Masses to their last written digit, the rest to what follows from it.
	for i, w := range handSteps {
		s, state := l.Steps[i].Result.State, l.Steps[i].State()
		near(t, w.what+": water", s.WaterKg, w.waterKg, 2e-6)
		near(t, w.what+": ethanol", s.EthanolKg, w.ethanolKg, 2e-6)
		near(t, w.what+": extract", s.ExtractKg, w.extractKg, 2e-6)
		near(t, w.what+": volume", state.VolumeL.Value, w.volumeL, 1e-5)
		near(t, w.what+": gravity", state.GravitySG.Value, w.gravitySG, 1e-6)
		near(t, w.what+": strength", state.ABVPct.Value, w.abvPct, 1e-5)
		near(t, w.what+": original gravity", state.OriginalSG.Value, w.original, 1e-6)
		near(t, w.what+": bitterness", state.IBU.Value, w.bitternessIBU, 2e-5)
		near(t, w.what+": liquid added", l.Steps[i].AddedL, w.added, 1e-6)
		if w.teaGPerL > 0 {
			dose := l.Steps[i].Doses[0]
			near(t, w.what+": heather", dose.GPerL[0].Value, w.teaGPerL, 3e-6)
			near(t, w.what+": dose as weighed", dose.AsWeighed, w.teaWeighedGPerL, 3e-6)
		}
	}
}

// The other figures of the same batch, again by hand.
func TestLedgerByHandOtherFigures(t *testing.T) {
	n, b := handBatch()
	l, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	// After the fruit 1.337217 kg of extract are in; of the base 0.900741 kg, of
	// the tea 0.009084 kg (less the 0.3 L jar) and of the fruit 0.0296 kg do not
	// ferment. 0.410967 kg are left: x 0.9565/2.0665 = 190.220 g of CO2.
	near(t, "CO2 to come", l.Steps[5].Result.Estimates[dilution.QCO2ToComeG].Value, 190.220, 2e-3)
	// The heather at the end: 37.9728 g x 0.906237 / 20.38533 L.
	near(t, "heather at the end", l.Doses[0].GPerL[0].Value, 1.688091, 3e-6)
	// 2000 g of fruit, cut by the pulp's share and the transfer to 0.919553.
	near(t, "raspberry as weighed", l.Doses[1].AsWeighed, 90.21710, 1e-4)
	// Kept shares of the ledger count from the start: 1 until the first loss.
	for i, w := range handSteps[2:] {
		near(t, w.what+": kept", l.Steps[i+2].Result.KeptShare, w.keptSinceTheTea, 1e-6)
	}
}

// A reading put right later changes every figure after it and none before.
func TestCorrectedReadingFlowsOn(t *testing.T) {
	n, b := handBatch()
	before, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	for i := range n.Readings {
		if n.Readings[i].Name == "heather-1.r3" {
			n.Readings[i].SG = ptr(1.0105)
		}
	}
	after, err := Of(n, b)
	if err != nil {
		t.Fatal(err)
	}
	for i := range before.Steps {
		x, y := before.Steps[i].State().ABVPct.Value, after.Steps[i].State().ABVPct.Value
		if i < 7 && x != y {
			t.Errorf("step %d changed from %g to %g by a later reading", i, x, y)
		}
		// One point of gravity is 0.13 % vol (rule of thumb of the trade).
		if i >= 7 {
			near(t, "strength lost by one point", x-y, 0.131, 0.005)
		}
	}
}
