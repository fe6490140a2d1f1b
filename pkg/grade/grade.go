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

// Written is a grade among the keys of a document that embeds it; null for nothing.
type Written struct {
	Grade      *int    `json:"grade"`
	GradeName  *string `json:"grade_name"`
	Borderline *bool   `json:"borderline"`
}

// Write returns the written form, of nil that of nothing. It holds copies.
func (g *Grade) Write() Written {
	if g == nil {
		return Written{}
	}
	return Written{new(g.Value), new(g.Name), new(g.Borderline)}
}
