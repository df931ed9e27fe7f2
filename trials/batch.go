package trials

import (
	"strings"
	"time"
)

// Batch is one lot of beer with its own history. A child batch (jar, keg,
// bench glass) has a parent from which it was split; its history before
// StartedAt is the parent's.
type Batch struct {
	Record
	ParentID  *string   `json:"parent_id"`  // the batch it was split from
	Kind      string    `json:"kind"`       // batch, jar or glass
	StartedAt time.Time `json:"started_at"` // when VolumeL and OG held; for a child, when it was split off
	VolumeL   float64   `json:"volume_l"`   // litres at 20 C; for a child, the litres taken from the parent
	OG        *float64  `json:"og"`         // original gravity, SG 20/20
	FG        *float64  `json:"fg"`         // expected final gravity of the base beer, SG 20/20
	IBU       *float64  `json:"ibu"`        // bitterness at the start, mg iso-alpha acids per litre
	SRM       *float64  `json:"srm"`        // colour at the start, SRM units
	// pressure rating of the container, bar above atmosphere, as its maker states it
	RatedBar *float64 `json:"rated_bar"`
	Style    string   `json:"style"` // in the brewer's words
	Note     string   `json:"note"`  // free text

	// OG is as the hydrometer showed it, where one is named or the sample's
	// temperature is given; else it is SG 20/20.
	OGMeterID     *string  `json:"og_meter_id"`
	OGSampleTempC *float64 `json:"og_sample_temp_c"` // temperature of the sample of OG, C

	// Brewer is the id of the notebook that the batch came from in a merge; empty for one's own.
	Brewer string `json:"brewer"`
}

// The kinds of batch.
const (
	KindBatch = "batch"
	KindJar   = "jar"
	KindGlass = "glass"
)

// batchKinds lists the kinds of batch in the order help shows them.
var batchKinds = []string{KindBatch, KindJar, KindGlass}

// Loss is beer that left a batch, taking its share of every solute with it, or
// water that evaporated and left the solutes behind.
type Loss struct {
	Record
	BatchID string    `json:"batch_id"` // id of the batch
	At      time.Time `json:"at"`       // when it happened
	Kind    string    `json:"kind"`     // sample, trub, transfer or evaporation
	VolumeL float64   `json:"volume_l"` // litres of beer, or of water that evaporated
	Note    string    `json:"note"`     // free text
}

// The kinds of loss.
const (
	LossSample      = "sample"
	LossTrub        = "trub"
	LossTransfer    = "transfer"
	LossEvaporation = "evaporation"
)

// lossKinds lists the kinds of loss in the order help shows them.
var lossKinds = []string{LossSample, LossTrub, LossTransfer, LossEvaporation}

// Packaging is the moment a batch was closed into bottles or a keg.
type Packaging struct {
	Record
	BatchID string    `json:"batch_id"` // id of the batch
	At      time.Time `json:"at"`       // when it was closed in
	// highest temperature after fermentation ended, for the CO2 left in the beer
	HighestTempC *float64 `json:"highest_temp_c"`
	StorageTempC *float64 `json:"storage_temp_c"` // highest temperature the package will see, for its pressure
	Note         string   `json:"note"`           // free text
}

// BatchNote is a remark at a time.
type BatchNote struct {
	Record
	BatchID string    `json:"batch_id"` // id of the batch
	At      time.Time `json:"at"`       // when it was so
	Text    string    `json:"text"`     // as it was written
}

// Validate refuses a batch whose numbers cannot be.
func (b Batch) Validate() error {
	if err := CheckName("batch", b.Name); err != nil {
		return err
	}
	if err := checkWord("kind of batch", b.Kind, batchKinds); err != nil {
		return err
	}
	if err := CheckPositive("volume", b.VolumeL, "L"); err != nil {
		return err
	}
	if err := CheckGravityPair(b.OG, b.FG); err != nil {
		return err
	}
	// the correction of a hydrometer holds in this range only
	if err := CheckRange("sample temperature", b.OGSampleTempC, 0, 40, "C"); err != nil {
		return err
	}
	if err := CheckRange("bitterness", b.IBU, 0, 200, "IBU"); err != nil {
		return err
	}
	return CheckRange("colour", b.SRM, 0, 120, "SRM")
}

// Validate refuses a loss that is not a volume of a known kind.
func (l Loss) Validate() error {
	if err := checkWord("kind of loss", l.Kind, lossKinds); err != nil {
		return err
	}
	return CheckPositive("volume", l.VolumeL, "L")
}

// Validate refuses a remark without a word in it.
func (r BatchNote) Validate() error {
	if strings.TrimSpace(r.Text) == "" {
		return Refuse(`write it in quotes, such as "hazy after the cold night"`, "the note is empty")
	}
	return nil
}

// Validate refuses temperatures that no beer has: the gas formulas hold from 0 to
// 40 C.
func (p Packaging) Validate() error {
	if err := CheckRange("highest temperature", p.HighestTempC, 0, 40, "C"); err != nil {
		return err
	}
	return CheckRange("storage temperature", p.StorageTempC, 0, 40, "C")
}
