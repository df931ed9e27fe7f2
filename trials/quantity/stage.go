package quantity

// stageExample is what hints show.
const stageExample = "98C>92C 10min now-and-then"

// ParseStage returns the stage that text gives: material put into wort or beer
// itself, so a time and what else is known, in any order: "5d", "20C 5d still
// bag", "98C>92C 10min now-and-then", "98C@0min,95C@5min,92C@10min". The
// temperature may be left out.
//
// A missing time is an *Error, and so are liquid and words for parting liquid and
// material: those belong to a pass, see ParsePass.
func ParseStage(text string, opt Options) (PassText, error) {
	return parsePass(text, opt, passReader{isStage: true})
}

// checkStage refuses a stage with something that belongs to a pass.
func (p *passReader) checkStage() error {
	t := &p.pass
	switch {
	case p.hasVolume || t.RecoveredL != nil || t.HeldL != nil || t.SpentG != nil || t.TeaSG != nil || t.TeaPH != nil:
		return p.fail("write it as "+stageExample, "material put in itself has no liquid of its own")
	case t.Separation != "":
		return p.fail("leave "+t.Separation+" out", "material put in itself is not parted from a tea")
	case !p.hasTime && t.Efficiency == nil:
		return p.fail("add how long it is in, such as 5d", "it does not say how long")
	}
	return nil
}
