package grade

// Grade is a place on the scale.
type Grade struct {
	// Value is 0 to 4.
	Value int
	// Name is the word for it: bare, film, patchy, crusted, caked.
	Name string
	// Borderline is true when the 95 % interval of the index crosses a limit of the scale.
	Borderline bool
	// Scale is the version of the scale.
	Scale int
}
