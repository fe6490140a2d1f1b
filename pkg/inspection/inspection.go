package inspection

import (
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// File is the name of the file that makes a folder an inspection.
const File = "inspection.yaml"

// What an engine may have: more is taken for a slip of the pen.
const (
	MostCylinders = 16
	MostValves    = 3 // intake valves of one cylinder
)

// Inspection is all photos of one engine on one day at one odometer reading.
type Inspection struct {
	// Dir is the folder, as given.
	Dir string
	// Vehicle is the shop's own reference, never empty; inspections of one vehicle carry the same.
	Vehicle string
	Engine  Layout
	// Date is midnight UTC of the day, the zero time where nobody wrote it down. Odometer may be unknown likewise.
	Date     time.Time
	Odometer Odometer
	Stage    Stage
	// Banks are the rows of a V engine, each with its cylinders from the front; nil for cylinders in one row.
	Banks [][]int
	// Methods says how a cylinder was cleaned, in the shop's words.
	Methods map[int]string
	Notes   string
	// Card is what else the shop notes of vehicle and job; no result or report takes anything from it.
	Card JobCard
	// Photos are ordered by cylinder, then valve, then as in the file. A picture of several valves stands once for
	// each, else none stands twice.
	Photos []Photo
	// Overruled are grades that a person gave beside the measured ones, at most one for a valve.
	Overruled []Overruled
	// Assumed are sentences on what was taken for granted because nobody wrote it down; none where a form tells all.
	Assumed []string
	// Heard are the valves that photos without a form show, those of the folders given together: in their names the number 4
	// of a cylinder says nothing of those before it. It is nil where a form tells of the whole engine.
	Heard []Place
}

// HeardOf reports whether the engine is known to have a valve: all of the layout, or those that were Heard of. What a photo
// shows is known, whatever a document says.
func (i *Inspection) HeardOf(cylinder, valve int) bool {
	return i.Heard == nil || slices.Contains(i.Heard, Place{cylinder, valve}) ||
		slices.ContainsFunc(i.Photos, func(p Photo) bool { return p.Cylinder == cylinder && p.Valve == valve })
}

// Dated reports whether the day is known.
func (i *Inspection) Dated() bool { return !i.Date.IsZero() }

// JobCard is what an archive finds a vehicle and its visits by. Every entry may be empty.
type JobCard struct {
	// Plate and VIN are as written on the vehicle, Family is the engine's, in the shop's words.
	Plate, VIN, Family string
	// Job is the shop's number, Technician who took the photos, Wish what the customer asked for.
	Job, Technician, Wish string
}

// Layout is the engine: Cylinders 1 to 16, each with Valves 1 to 3 intake valves. Both are numbered from 1.
type Layout struct {
	Cylinders, Valves int
}

// Photo is one picture and a valve that it shows. File is relative to the folder, with forward slashes.
type Photo struct {
	File            string
	Cylinder, Valve int
	// FromLeft is the place of the valve among those that the picture is listed for, counted from 1; 0 where it is
	// listed for one alone.
	FromLeft int
	// LeftOut is nil for a photo that counts.
	LeftOut *LeftOut
}

// Path returns where the photo lies.
func (i *Inspection) Path(p Photo) string { return filepath.Join(i.Dir, filepath.FromSlash(p.File)) }

// Paths returns where the pictures lie, each once, in the order of Photos.
func (i *Inspection) Paths() []string {
	files := i.Files()
	paths := make([]string, len(files))
	for n, file := range files {
		paths[n] = i.Path(Photo{File: file})
	}
	return paths
}

// Files returns the names of the pictures, each once, in the order of Photos.
func (i *Inspection) Files() []string {
	files := make([]string, 0, len(i.Photos))
	for _, p := range i.Photos {
		if !slices.Contains(files, p.File) {
			files = append(files, p.File)
		}
	}
	return files
}

// SameVehicle reports whether two inspections carry one vehicle's reference, written with capitals and blanks in
// whatever way.
func SameVehicle(a, b *Inspection) bool {
	return plainReference(a.Vehicle) == plainReference(b.Vehicle)
}

func plainReference(vehicle string) string {
	return strings.ToLower(strings.Join(strings.Fields(vehicle), ""))
}

// Stage says what the inspection was made for.
type Stage string

// The stages: on its own, and before and after a cleaning.
const (
	Routine Stage = "routine"
	Before  Stage = "before"
	After   Stage = "after"
)

// Known reports whether it is one of the stages.
func (s Stage) Known() bool { return s == Routine || s == Before || s == After }

// Cleaned reports whether this inspection shows the cylinder just cleaned: the stage is after, and either the cylinder
// has a method or none has.
func (i *Inspection) Cleaned(cylinder int) bool {
	if i.Stage != After {
		return false
	}
	return i.Methods[cylinder] != "" || !i.methodNamed()
}

// LeftAlone reports whether this inspection says that a cylinder was not cleaned: the stage is after, and other cylinders
// have a method.
func (i *Inspection) LeftAlone(cylinder int) bool { return i.Stage == After && !i.Cleaned(cylinder) }

// methodNamed reports whether any cylinder has a method.
func (i *Inspection) methodNamed() bool {
	for _, method := range i.Methods {
		if method != "" {
			return true
		}
	}
	return false
}
