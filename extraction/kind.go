package extraction

import (
	"math"
	"slices"
)

// Kind is a kind of plant material by how it holds liquid and how much of it
// dissolves.
type Kind int

// The kinds. UnknownKind is reckoned as LeafFlower with a wide doubt.
const (
	UnknownKind Kind = iota
	LeafFlower
	Cone // whole hops and the like
	Root
	Bark
	Wood // chips, cubes
	SeedWhole
	SeedCrushed
	Bean // ground coffee
	Nib  // cacao nib, nutmeg, tonka
	Peel
	Fruit
	Settled  // powder or pellets left as sediment
	Swelling // mucilage: linden, mallow, flax
	kindCount
)

// kindRow is what is known of a kind.
type kindRow struct {
	// Word is how it is written in tables.
	Word string
	// Held is the liquid in the spent material, mL per g of original dry matter:
	// drained, squeezed, pressed.
	Held [3]float64
	// HeldSDLn is the sd of its logarithm.
	HeldSDLn float64
	// Soluble is s, the share of the dry matter that boiling water dissolves.
	Soluble float64
	// SolubleSDLn is the sd of its logarithm.
	SolubleSDLn float64
	// Grade of the held liquid: A read, B derived, C judgement.
	Grade string
}

// kindRows is the table of kinds [23]: held liquid from spent tea drained 2.7 to
// 3.8, one weighing of whole hops 5.9, root powder 2.0 to 2.3 squeezed and 1.1
// pressed, ground coffee 2.2 to 2.7, dry-hop losses 7.9 to 9.4 mL/g; soluble share
// from tea, citrus leaf, hops, gentian, liquorice and coffee. The rest is judged.
var kindRows = [kindCount]kindRow{
	UnknownKind: {"unknown", [3]float64{4.0, 2.6, 1.1}, 0.50, 0.33, 0.40, "C"},
	LeafFlower:  {"leaf-flower", [3]float64{4.0, 2.6, 1.1}, 0.30, 0.33, 0.30, "B"},
	Cone:        {"cone", [3]float64{5.5, 3.0, 1.5}, 0.25, 0.33, 0.15, "B"},
	Root:        {"root", [3]float64{3.0, 2.0, 1.1}, 0.25, 0.35, 0.40, "B"},
	Bark:        {"bark", [3]float64{2.0, 1.7, 1.2}, 0.30, 0.15, 0.40, "C"},
	Wood:        {"wood", [3]float64{1.3, 1.2, 1.1}, 0.20, 0.06, 0.50, "C"},
	SeedWhole:   {"seed-whole", [3]float64{1.5, 1.3, 1.0}, 0.30, 0.15, 0.40, "C"},
	SeedCrushed: {"seed-crushed", [3]float64{2.3, 1.7, 1.1}, 0.30, 0.15, 0.40, "C"},
	Bean:        {"bean", [3]float64{2.5, 2.0, 1.4}, 0.15, 0.27, 0.15, "A"},
	Nib:         {"nib", [3]float64{1.4, 1.1, 0.7}, 0.30, 0.12, 0.40, "C"},
	Peel:        {"peel", [3]float64{4.0, 2.5, 1.6}, 0.35, 0.40, 0.30, "C"},
	Fruit:       {"fruit", [3]float64{3.5, 2.2, 1.4}, 0.35, 0.70, 0.25, "C"},
	Settled:     {"settled", [3]float64{8.5, 3.0, 1.5}, 0.25, 0.33, 0.30, "A"},
	Swelling:    {"swelling", [3]float64{8, 5, 2.5}, 0.50, 0.33, 0.40, "C"},
}

// String returns the word of the kind, as ParseKind reads it.
func (k Kind) String() string {
	if k < 0 || k >= kindCount {
		return kindRows[UnknownKind].Word
	}
	return kindRows[k].Word
}

// ParseKind reads the word of a kind; empty is UnknownKind. An unknown word is an
// inputError that lists the allowed ones.
func ParseKind(word string) (Kind, error) {
	if word == "" {
		return UnknownKind, nil
	}
	var allowed []string
	for k := LeafFlower; k < kindCount; k++ {
		if kindRows[k].Word == word {
			return k, nil
		}
		allowed = append(allowed, kindRows[k].Word)
	}
	return UnknownKind, unknownWord("kind of material", word, allowed)
}

// HeldMLPerG returns the held liquid of a kind after a separation, mL per g of
// original dry matter. What is left in counts as drained.
func (k Kind) HeldMLPerG(s Separation) float64 { return kindRows[k].Held[k.column(s)] }

// HeldQuantile returns the held liquid at a normal score z, mL per g: the
// logarithm is normal, cut at 2.5 standard deviations.
func (k Kind) HeldQuantile(s Separation, z float64) float64 {
	return k.HeldMLPerG(s) * math.Exp(min(max(z, -mostHeldSD), mostHeldSD)*kindRows[k].HeldSDLn)
}

// column is the place of a separation in the table.
func (k Kind) column(s Separation) int {
	return max(slices.Index([]Separation{Drained, Squeezed, ScrewPressed}, s), 0)
}

// SolubleShare returns s, the share of the dry matter that boiling water
// dissolves, and the sd of its logarithm.
func (k Kind) SolubleShare() (share, sdLn float64) {
	return kindRows[k].Soluble, kindRows[k].SolubleSDLn
}

// OwnWaterFloor returns psi, the share of its own water that a plant keeps
// however little it holds by the table. Dry plants (below 40 % water) keep none of
// their own; fresh tissue below 50 C is not dewatered by draining; burst cells, of
// fruit, frozen or hot plants, drain. Judged, but for fruit, where 0.5 L/kg is in
// use.
func (k Kind) OwnWaterFloor(moisture float64, burst bool, s Separation) float64 {
	column := k.column(s)
	switch {
	case moisture < dryBelow:
		return 0
	case burst || k == Fruit:
		return [3]float64{0.6, 0.4, 0.25}[column]
	}
	return [3]float64{1.0, 0.6, 0.35}[column]
}

// dryBelow is the moisture below which a plant counts as dry.
const dryBelow = 0.40
