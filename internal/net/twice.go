package net

// What one look misreads by chance, another through a window a little different mostly does not, and a port has no up. So every
// valve is looked at twice, the second time upside down and from what the first look outlined: that hangs less on where the
// finder put its box, which a wider or narrower crop of a photo moves.

// takeMean makes the answer the mean, in logits, of itself and that of the look before, where that one reaches. Each counts by the
// overlap that it expects of its own mask with the truth: one that sees no valve knows nothing of its deposit.
func (o *Output) takeMean(before *Output) {
	share := 1 - shareOfSecond(before.Frame.Overlap, o.Frame.Overlap)
	rows := alongside(o.Rows, o.Top, o.CellHeight, before.Rows, before.Top, before.CellHeight, 0)
	columns := alongside(o.Cols, o.Left, o.CellWidth, before.Cols, before.Left, before.CellWidth, 0)
	for k := range o.Deposit {
		takeMap(o.Deposit[k], o.Cols, before.Deposit[k], before.Cols, rows, columns, share)
		takeMap(o.Region[k], o.Cols, before.Region[k], before.Cols, rows, columns, share)
	}
	for i, value := range before.frame {
		o.frame[i] += share * (value - o.frame[i])
	}
	o.Frame = readFrame(o.frame)
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
