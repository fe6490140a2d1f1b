package compare

import "math"

// alignment says where a place of one map lies on another: the valve is turned, and the foot of the stem stands
// elsewhere, because the outlines are not exact and the fillet stands proud of the flat head that the map assumes.
type alignment struct {
	// turn is in degrees clockwise: what is at 12 on the second map lies at this clock angle on the first.
	turn float64
	// across and up move the foot of the second map, in radii of the rim; what is further out moves less, the rim not
	// at all.
	across, up float64
}

// cell returns the cell of the second map that shows what a cell of the first map shows; ok is false when it is off the
// map.
func (a alignment) cell(cell int) (other int, ok bool) {
	row, column := cell/columns, cell%columns
	if row >= headRows {
		return row*columns + wrap(column-int(math.Round(a.turn))), true
	}
	radius := (float64(row) + 0.5) / headRows
	x := radius*clock[column].sin + (1-radius)*a.across
	y := radius*clock[column].cos + (1-radius)*a.up
	row = int(math.Sqrt(x*x+y*y) * headRows)
	if row >= headRows {
		return 0, false
	}
	angle := math.Atan2(x, y)*180/math.Pi - a.turn
	return row*columns + wrap(int(math.Floor(angle))), true
}

// clock holds sine and cosine of the middle of each column: a search asks for them a million times.
var clock = func() (all [columns]struct{ sin, cos float64 }) {
	for column := range all {
		all[column].sin, all[column].cos = math.Sincos((float64(column) + 0.5) * math.Pi / 180)
	}
	return all
}()

// wrap brings a column onto the map.
func wrap(column int) int {
	if column %= columns; column < 0 {
		column += columns
	}
	return column
}
