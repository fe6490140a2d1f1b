package agree

import "fmt"

// Table is a square confusion table: Table[i][j] counts the photos that the first rater put into class i and the second
// into class j.
type Table [][]int

// Tabulate counts the pairs of classes, each within 0 to classes-1. The two slices must have the same length.
func Tabulate(classes int, first, second []int) (Table, error) {
	if len(first) != len(second) {
		return nil, fmt.Errorf("agree: %d ratings against %d", len(first), len(second))
	}
	t := make(Table, classes)
	for i := range t {
		t[i] = make([]int, classes)
	}
	for n := range first {
		i, j := first[n], second[n]
		if i < 0 || i >= classes || j < 0 || j >= classes {
			return nil, fmt.Errorf("agree: pair %d is %d and %d, classes are 0 to %d", n+1, i, j, classes-1)
		}
		t[i][j]++
	}
	return t, nil
}

// Total counts all pairs.
func (t Table) Total() int {
	n := 0
	for _, row := range t {
		for _, c := range row {
			n += c
		}
	}
	return n
}

// Within returns the share of pairs at most steps classes apart; Within(0) is exact agreement.
func (t Table) Within(steps int) Proportion {
	count := 0
	for i, row := range t {
		for j, c := range row {
			if i-j <= steps && j-i <= steps {
				count += c
			}
		}
	}
	return Wilson(count, t.Total())
}

// square refuses a table whose rows are not as long as it has rows, or that holds a negative count.
func (t Table) square() error {
	for i, row := range t {
		if len(row) != len(t) {
			return fmt.Errorf("agree: row %d of the table has %d columns, want %d", i+1, len(row), len(t))
		}
		for j, c := range row {
			if c < 0 {
				return fmt.Errorf("agree: count %d in row %d, column %d", c, i+1, j+1)
			}
		}
	}
	return nil
}
