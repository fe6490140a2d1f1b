package net

// readBothWays takes the second look twice, at the window as it is and upside down, and gives the mean of both answers in
// logits. A port has no up, so both are worth the same, and what one of them misreads by chance the other mostly does
// not. Each counts by the overlap that it expects of its own mask with the truth: one that sees no valve knows nothing of
// its deposit. The input is left upside down.
func (e *Eyes) readBothWays(input []float32) (maps, frame []float32, err error) {
	maps, frame, err = e.models[reader].forward(input)
	if err != nil {
		return nil, nil, err
	}
	turnOver(input, frameWidth, frameHeight)
	other, otherFrame, err := e.models[reader].forward(input)
	if err != nil {
		return nil, nil, err
	}
	turnOver(other, mapCols, mapRows)
	share := shareOfSecond(readFrame(frame).Overlap, readFrame(otherFrame).Overlap)
	mix(maps, other, share)
	mix(frame, otherFrame, share)
	return maps, frame, nil
}

// shareOfSecond is how much the second of two answers counts that expect these overlaps; half where both expect none.
func shareOfSecond(first, second float64) float32 {
	if first+second == 0 {
		return 0.5
	}
	return float32(second / (first + second))
}

// turnOver turns each of the planes of width x height values upside down.
func turnOver(planes []float32, width, height int) {
	row := make([]float32, width)
	for ; len(planes) > 0; planes = planes[width*height:] {
		for upper, lower := 0, height-1; upper < lower; upper, lower = upper+1, lower-1 {
			above, below := planes[upper*width:][:width], planes[lower*width:][:width]
			copy(row, above)
			copy(above, below)
			copy(below, row)
		}
	}
}

// mix moves values towards others by a share of the way.
func mix(values, others []float32, share float32) {
	for i, other := range others {
		values[i] += share * (other - values[i])
	}
}
