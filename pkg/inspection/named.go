package inspection

// Named returns the cylinder and the valve that a photo's file name tells in one of the usual ways; a number that it does not
// tell is 0.
func Named(file string) (cylinder, valve int) {
	for _, p := range usual {
		if found, ok := p.place(file); ok {
			return found.cylinder, found.valve
		}
	}
	return 0, 0
}
