package plot

// Plot is a picture as plain data.
type Plot struct {
	Title string  // names the picture
	Desc  string  // what there is to see in it, in one sentence
	X     Axis    // across, shared by panels and lanes
	Under string  // below the axis: what it counts
	None  string  // the word at a place of its own, left of the axis, for what has no X; empty for no such place
	Marks []Mark  // lines through all panels, drawn behind
	Panel []Panel // from the top down
	Lanes []Lane  // below the panels

	Legend string // below a picture in characters: what each character is; empty draws none
}

// Mark is an upright line through the whole picture.
type Mark struct {
	X     float64 // where
	Label string  // above it
	Ink   Ink     // of line and label
	Shape Shape   // stands on the line of events above the panels; noShape, the zero value, for a line alone
}

// Panel is a field with an axis of its own upright.
type Panel struct {
	Label  string  // above it, at the left
	Y      Axis    // upright
	Height float64 // in pixels
	Bands  []Band  // behind
	Lines  []Line  // before them
	Points []Point // before all
	Words  []Word  // beside the lines
	End    string  // at the right, beside the last value of the last line
	Limit  string  // below it
}

// Band is the room between two lines.
type Band struct {
	X, Low, High []float64 // of one length
	Ink          Ink       // how it is filled
	Opacity      float64   // 0 to 1
	Char         byte      // in characters; 0 leaves it out
}

// Line is a line through points.
type Line struct {
	X, Y  []float64 // of one length
	Ink   Ink       // of the line
	Width float64   // in pixels
	Dash  string    // lengths of line and gap in pixels; empty for a whole line
	Char  byte      // in characters; 0 leaves it out
}

// Point is a mark with a label.
type Point struct {
	X, Y      float64  // where; X is passed over where Apart is set
	Apart     bool     // stands at the place for what has no X
	Low, High *float64 // interval upright, nil for none
	Shape     Shape    // what it looks like
	Ink       Ink      // of the mark
	Label     string   // beside it
	Title     string   // for the pointer
	Char      byte     // in characters; 0 leaves it out
}

// Word is a text in a panel.
type Word struct {
	X, Y  float64 // where its middle stands
	Lift  float64 // pixels above that
	Text  string  // in few letters
	Ink   Ink     // of the text
	Heavy bool    // bold
}

// Lane is a row of intervals and strips below the panels.
type Lane struct {
	Label  string  // at its left
	Heavy  bool    // the label is bold
	Value  string  // at its right
	Strips []Strip // on its line
}

// Strip is an interval in a lane.
type Strip struct {
	Low, High float64  // its ends
	At        *float64 // the best value, a disc; nil draws a bar from end to end
	Label     string   // below a bar
	Ink       Ink      // of both
}

// An Ink is a colour of the pictures.
type Ink string

// The inks, with their contrast on white and their grey value of 255.
const (
	Black  Ink = "#1b1a17" // text and trials: 17.4, 26
	soft   Ink = "#595449" // labels: 7.5, 84
	Rule   Ink = "#8a8375" // axes, advice: 3.8, 132
	Right  Ink = "#0d4f3f" // just right: 9.5, 69
	Little Ink = "#2a6a9e" // too little: 5.7, 102
	Much   Ink = "#b4560c" // too much: 4.9, 113
	paper  Ink = "#ffffff"
)

// A Shape is what a mark looks like.
type Shape int

// The shapes of marks.
const (
	noShape Shape = iota
	Disc
	Ring
	Diamond
	Triangle
	Square
)
