package ledger

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"hedgerow/trials"
)

// A change that the account cannot take is refused, unless it did not hold
// before either.
func TestCheckAccount(t *testing.T) {
	n, b := handBatch()
	too := trials.Loss{Record: trials.Record{ID: "new", Name: "heather-1.l9"}, BatchID: b.ID, At: day(22),
		Kind: trials.LossTrub, VolumeL: 30}
	broken := n.With(too)
	if err := CheckAccount(broken, n, b); trials.CodeOf(err) != trials.Invalid ||
		!strings.Contains(err.Error(), "heather-1.l9") {
		t.Errorf("30 L out of 20 L: %v", err)
	}
	if err := CheckAccount(broken.With(trials.Loss{Record: trials.Record{ID: "more", Name: "heather-1.l10"},
		BatchID: b.ID, At: day(3), Kind: trials.LossSample, VolumeL: 0.1}), broken, b); err != nil {
		t.Errorf("a batch that is broken already is shut: %v", err)
	}
	late := b
	late.StartedAt = day(4)
	if err := CheckAccount(n.With(late), n, late); err == nil || !strings.Contains(err.Error(), "heather-1.r1") {
		t.Errorf("begun after its first reading: %v", err)
	}
	bare := b
	bare.OG = nil
	if err := CheckAccount(n.With(bare), n, bare); err != nil {
		t.Errorf("without original gravity there is no account to break: %v", err)
	}
}

// An extract made smaller than what was poured is refused.
func TestCheckPoured(t *testing.T) {
	n, _ := batchOf(jugTea(), trials.Addition{Record: trials.Record{ID: "a", Name: "heather-1.a1"}, At: day(4),
		Stage: trials.StageSecondary, ExtractID: ptr("x"), PouredL: ptr(0.7)})
	smaller := jugTea()
	smaller.Passes = smaller.Passes[:1]
	if err := CheckPoured(n.With(smaller), n, smaller); trials.CodeOf(err) != trials.Invalid ||
		!strings.Contains(err.Error(), "0.7 L were poured") {
		t.Errorf("%v", err)
	}
	if err := CheckPoured(n, n, jugTea()); err != nil {
		t.Errorf("unchanged: %v", err)
	}
}

func TestCheckSplit(t *testing.T) {
	n, b := handBatch()
	jar := func(volume float64, at time.Time) trials.Batch {
		return trials.Batch{Record: trials.Record{Name: "jar-1"}, ParentID: ptr(b.ID), Kind: trials.KindJar,
			StartedAt: at, VolumeL: volume}
	}
	if err := CheckSplit(n, b, jar(4, day(30))); err != nil {
		t.Errorf("4 L of 20.4 L: %v", err)
	}
	for what, child := range map[string]trials.Batch{"more than there is": jar(25, day(30)),
		"before the batch began": jar(4, day(-1)), "nothing": jar(0, day(30))} {
		if err := CheckSplit(n, b, child); trials.CodeOf(err) != trials.Invalid || err == nil {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// A change that breaks an account is refused, but an account that is broken
// already shuts nothing. 12 L cannot lose 50 L.
func TestChecksTheAccountOfAChange(t *testing.T) {
	b := trials.Batch{Record: trials.Record{ID: "b", Name: "elder-3"}, Kind: trials.KindBatch, VolumeL: 12,
		OG: ptr(1.048), StartedAt: day(0)}
	before := &trials.Notebook{Batches: []trials.Batch{b},
		Readings: []trials.Reading{{Record: trials.Record{ID: "r", Name: "elder-3.r1"}, BatchID: "b", At: day(4),
			SG: ptr(1.012)}}}
	flood := trials.Loss{Record: trials.Record{ID: "l", Name: "elder-3.l1"}, BatchID: "b", At: day(5),
		Kind: trials.LossTrub, VolumeL: 50}
	drop := flood
	drop.VolumeL = 0.5
	if err := CheckAccount(before.With(drop), before, b); err != nil {
		t.Errorf("half a litre cannot be lost: %v", err)
	}
	if err := CheckAccount(before.With(flood), before, b); err == nil || !strings.Contains(err.Error(), "elder-3.l1") {
		t.Errorf("50 L of 12 L can be lost: %v", err)
	}
	late := b
	late.StartedAt = day(5)
	if err := CheckAccount(before.With(late), before, late); err == nil ||
		!strings.Contains(err.Error(), "elder-3.r1 at") {
		t.Errorf("a batch can begin after its first reading: %v", err)
	}
	broken := before.With(flood)
	if err := CheckAccount(broken.With(drop), broken, b); err != nil {
		t.Errorf("a broken account cannot be mended: %v", err)
	}
	drop.ID = "m"
	if err := CheckAccount(broken.With(drop), broken, b); err != nil {
		t.Errorf("a broken account shuts the batch: %v", err)
	}
	if len(before.Losses) != 0 || len(broken.Losses) != 1 {
		t.Error("With changed the notebook it was called on")
	}
}

// Of many batches of one change the one whose account does not hold is named, and one
// that did not hold before is let pass.
func TestCheckAccountsOfMany(t *testing.T) {
	n, b := handBatch()
	var list []trials.Batch
	for i := range 2000 {
		other := b
		other.ID, other.Name = fmt.Sprint("b", i), fmt.Sprint("heather-1-", i)
		list = append(list, other)
	}
	n.Batches = append(n.Batches, list...)
	if err := CheckAccounts(n, n, list); err != nil {
		t.Fatal(err)
	}
	spilt := n.With(trials.Loss{Record: trials.Record{ID: "l", Name: "heather-1-1500.l1"}, BatchID: "b1500", At: day(22),
		Kind: trials.LossTrub, VolumeL: 30})
	if err := CheckAccounts(spilt, n, list); err == nil || !strings.Contains(err.Error(), "heather-1-1500.l1") {
		t.Errorf("30 L out of 20 L: %v", err)
	}
	if err := CheckAccounts(spilt, spilt, list); err != nil {
		t.Errorf("one that is broken already shuts the others: %v", err)
	}
}
