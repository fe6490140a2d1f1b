package main

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"valvegrade/internal/terminal"
	"valvegrade/pkg/inspection"
)

// tellDraft says what was guessed from what, and what is left to fill in. deeper are photos in folders of the folder that
// do not belong to the inspection.
func tellDraft(w io.Writer, dir, path string, d *inspection.Proposal, deeper []string) error {
	date := "not known: no photo carries the camera's time"
	switch {
	case d.Last != d.First:
		date = fmt.Sprintf("%s, the day of the last photo by the camera's clock; the first is of %s", d.Last, d.First)
	case d.Last != "":
		date = d.Last + ", by the camera's clock"
	}
	vehicle := "the folder's name"
	if d.Stage != inspection.Routine {
		vehicle = fmt.Sprintf("the name of the folder around it, because its own tells the stage: %s", d.Stage)
	}
	placed := len(d.Entries())
	_, err := fmt.Fprintf(w, `wrote %s
vehicle: %s, %s
engine: %s
date: %s
photos: %d of %d placed by %s%s
`, terminal.Printable(path), terminal.Printable(d.Vehicle), vehicle, engineGuess(d), date, placed, placed+len(d.Unplaced), placedBy(d), wholeCylinders(d))
	if err != nil {
		return err
	}
	return tellOpen(w, dir, path, d, deeper)
}

func placedBy(d *inspection.Proposal) string {
	if d.Ordered {
		return "the order of shooting"
	}
	return "their names"
}

// engineGuess says what was guessed of the engine, and from what.
func engineGuess(d *inspection.Proposal) string {
	switch {
	case len(d.Placed) == 0:
		return "not known: no file name tells cylinder and valve"
	case d.Ordered:
		return fmt.Sprintf(
			"cylinders %d, intake valves of one cylinder %d, as in the order",
			d.Engine.Cylinders,
			d.Engine.Valves,
		)
	case d.Seen:
		return fmt.Sprintf(
			"cylinders %d, the highest in the file names, intake valves of one cylinder %d, as many as photos show",
			d.Engine.Cylinders,
			d.Engine.Valves,
		)
	case d.Counted:
		return fmt.Sprintf(
			"cylinders %d, the highest in the file names, intake valves of one cylinder %d, as many as each has photos",
			d.Engine.Cylinders,
			d.Engine.Valves,
		)
	default:
		return fmt.Sprintf(
			"cylinders %d, intake valves of one cylinder %d, the highest in the file names",
			d.Engine.Cylinders,
			d.Engine.Valves,
		)
	}
}

// wholeCylinders tells how many photos were taken for all valves of a cylinder.
func wholeCylinders(d *inspection.Proposal) string {
	whole := 0
	for _, e := range d.Entries() {
		if len(e.Valves) > 1 {
			whole++
		}
	}
	if whole == 0 {
		return ""
	}
	return fmt.Sprintf(", %d of them with all valves of the cylinder, by what they show", whole)
}

// tellOpen lists what the reader must fill in before the folder can be scored.
func tellOpen(w io.Writer, dir, path string, d *inspection.Proposal, deeper []string) error {
	fmt.Fprintln(w, "\nto do:")
	_, err := inspection.Parse(path, d.Text)
	var open *inspection.FileError
	if errors.As(err, &open) {
		for _, line := range open.Lines() {
			fmt.Fprintln(w, "  "+terminal.Printable(line))
		}
	}
	for _, p := range d.Unplaced {
		fmt.Fprintf(
			w,
			"  %s: %s; it stands at the end of the file\n",
			terminal.Printable(p.File), unclear(p, d.Engine.Valves),
		)
	}
	tellRanked(w, d)
	if len(deeper) > 0 {
		fmt.Fprintf(w, "  left out, as their folders are named for no cylinder: %s; if they are of this inspection, put them\n"+
			"    beside the others, or name their folders such as cyl2, and begin anew\n", terminal.Printable(named(deeper)))
	}
	_, err = fmt.Fprintf(w, "  check the guesses, then: valvegrade score %q\n", dir)
	return err
}

// tellRanked says which photos were given to the valves of their cylinder by nothing but the order of names, and how to say
// that they are of one valve.
func tellRanked(w io.Writer, d *inspection.Proposal) {
	if len(d.Ranked) == 0 {
		return
	}
	first := d.Placed[slices.IndexFunc(d.Placed, func(p inspection.Photo) bool { return d.IsRanked(p.File) })]
	fmt.Fprintf(w, "  %d photos whose names tell only the cylinder were given to its valves in the order of names, as %q to valve %d of\n"+
		"    cylinder %d; photos of one valve are named for it, such as c2v1a.jpg and c2v1b.jpg, or lie in a folder c2v1\n",
		len(d.Ranked), first.File, first.Valve, first.Cylinder) // %q keeps control characters from the terminal
}

// unclear says why it is not known which of so many valves a photo shows.
func unclear(p inspection.Unplaced, valves int) string {
	switch {
	case p.Beside > 0 && valves < 2 && (p.Shows == nil || *p.Shows > 0):
		return "its name tells only the cylinder, of which there are more photos: fill in the valve, or name all such as c2v1.jpg"
	case p.Shows == nil || valves < 2 && *p.Shows > 0:
		return "its name does not say which valve it shows"
	case *p.Shows == 0:
		return "its name does not say which valve it shows, and none in it can be judged"
	}
	seen := "1 valve"
	if *p.Shows > 1 {
		seen = fmt.Sprintf("%d valves", *p.Shows)
	}
	return fmt.Sprintf("it shows %s where a cylinder has %d, and its name does not say which", seen, valves)
}
