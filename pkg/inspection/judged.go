package inspection

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"valvegrade/pkg/grade"
)

// LeftOut says that a photo does not count, although it was taken: who decided so, and why. Neither is empty.
type LeftOut struct {
	By, Reason string
}

// Overruled is a grade that a person gives a valve beside the measured one, which stays. Grade is 0 to 4; By and Reason
// are not empty.
type Overruled struct {
	Cylinder, Valve int
	Grade           int
	By, Reason      string
}

// Overruling returns what a person says of a valve, nil for nothing.
func (i *Inspection) Overruling(cylinder, valve int) *Overruled {
	at := slices.IndexFunc(i.Overruled, func(o Overruled) bool { return o.Cylinder == cylinder && o.Valve == valve })
	if at < 0 {
		return nil
	}
	return &i.Overruled[at]
}

// MostWords is how long a name or a reason may be, in bytes.
const MostWords = 1000

// signed reads who decided and why: a decision without either is a fault, as nobody could ask back.
func (c *check) signed(by, reason scalar, line int, what string) (string, string) {
	words := [2]string{strings.TrimSpace(by.text), strings.TrimSpace(reason.text)}
	for n, key := range []string{"by", "reason"} {
		switch {
		case words[n] == "":
			c.fault(line, "%s needs %s: say who decided and why", what, key)
		case len(words[n]) > MostWords:
			c.fault(line, "%s: %s is longer than %d letters", what, key, MostWords)
		}
	}
	return words[0], words[1]
}

func (c *check) leftOut(f photoForm) *LeftOut {
	if f.LeftOut == nil {
		return nil
	}
	by, reason := c.signed(f.LeftOut.By, f.LeftOut.Reason, f.line, "left_out")
	return &LeftOut{by, reason}
}

func (c *check) overruled(engine Layout) []Overruled {
	var found []Overruled
	for _, f := range c.form.Overruled {
		o := Overruled{
			Cylinder: c.count(f.Cylinder, f.line, "cylinder", engine.Cylinders),
			Valve:    c.count(f.Valve, f.line, "valve", engine.Valves),
		}
		var err error
		if o.Grade, err = strconv.Atoi(f.Grade.text); err != nil || o.Grade < 0 || o.Grade >= len(grade.Names()) {
			c.fault(max(f.Grade.line, f.line), "grade %q is none of 0 to %d", f.Grade.text, len(grade.Names())-1)
		}
		o.By, o.Reason = c.signed(f.By, f.Reason, f.line, "overruled")
		same := func(p Overruled) bool { return p.Cylinder == o.Cylinder && p.Valve == o.Valve && p.Valve > 0 }
		if slices.ContainsFunc(found, same) {
			c.fault(f.line, "cylinder %d valve %d is overruled twice", o.Cylinder, o.Valve)
		}
		found = append(found, o)
	}
	return found
}

// banks reads the rows in which the cylinders stand; nil where nothing is said, for one row.
func (c *check) banks(engine Layout) [][]int {
	var rows [][]int
	seen := map[int]bool{}
	line := c.form.lines["engine"]
	for _, row := range c.form.Engine.Banks {
		var cylinders []int
		for _, s := range row {
			n := c.count(s, line, "cylinder", engine.Cylinders)
			if n > 0 && seen[n] {
				c.fault(s.line, "cylinder %d stands twice in banks", n)
			}
			seen[n] = true
			cylinders = append(cylinders, n)
		}
		rows = append(rows, cylinders)
	}
	known := c.form.Engine.Cylinders.text != "" // else the bound is that of any engine
	if len(rows) > 0 && known && len(seen) != engine.Cylinders {
		c.fault(line, "banks names %d of %d cylinders", len(seen), engine.Cylinders)
	}
	return rows
}

// Rows returns the rows in which the cylinders stand, one where nothing else is said.
func (i *Inspection) Rows() [][]int { return rowsOf(i.Banks, i.Engine) }

func rowsOf(banks [][]int, engine Layout) [][]int {
	if len(banks) > 0 {
		return banks
	}
	row := make([]int, engine.Cylinders)
	for n := range row {
		row[n] = n + 1
	}
	return [][]int{row}
}

// ValveName is how a valve is called in short: "2.1" is valve 1 of cylinder 2.
func ValveName(cylinder, valve int) string { return fmt.Sprintf("%d.%d", cylinder, valve) }
