package report

import (
	"image"
	"math"
	"time"

	"valvegrade/internal/report/texts"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
	"valvegrade/pkg/trend"
)

// Model is all that a report says. The formats read it and change nothing.
type Model struct {
	Texts  *texts.Texts
	Locale Locale
	// Paper is what a report on paper is made for.
	Paper Paper
	Shop  Shop
	Job   Job
	// Program is the version of the program that writes the report; the photos carry their own.
	Program string
	// Vehicle is the shop's own reference, never empty.
	Vehicle string
	Layout  inspection.Layout
	// Between are the words of two visits, by what lies between them.
	Between texts.Between
	// Visits is one inspection, or two, the earlier one first.
	Visits []Visit
	// Cylinders has one entry per cylinder of the engine in its order, measured or not; of photos without a form those
	// that have any.
	Cylinders []Cylinder
	// Change holds all valves in both visits, nil with a single one.
	Change *compare.Engine
	// Trend is nil without history.
	Trend *trend.Trend
	// Summary is the whole result in one line.
	Summary string
	// Notes are sentences on what is missing or contradicts itself, each once; those on the history are Trend.Notes.
	Notes []string
	// Separator is that of the Input.
	Separator Separator
	// Workshop is true for a report that also shows what only the workshop can use: all Notes, and each photo's
	// figures.
	Workshop bool
	// shown are those of the Notes that every reader must know: what was assumed of photos without a form, what people
	// decided against the measurement, and which cylinders changed though they were left alone.
	shown []string
}

// Visit is one inspection as the report names it.
type Visit struct {
	// Title is "Inspection", or tells two apart: "Before cleaning", "Later inspection".
	Title string
	*engine.Graded
	// Versions are those of program and net that graded its photos, each once, in order of first use.
	Versions []string
}

// Reading is a figure of one valve, cylinder or engine in one visit. Grade is nil when nothing was measured.
type Reading struct {
	measure.Reading
	Grade *grade.Grade
}

// Cylinder is graded by its worst valve.
type Cylinder struct {
	Number int
	// Method is how it was cleaned before the last visit, in the shop's words, "" when not said.
	Method string
	// LeftAlone is true where the last visit says that it was not cleaned while others were.
	LeftAlone bool
	// Readings has one entry per visit; their Coverage is not measured. BuildUps say, likewise, how thick the dark
	// deposit is. Of two visits they are of the valves that were graded in both, so that one valve is never held
	// against another; Common are the numbers of these where they are not all that were graded, else nil. Where there are
	// none, Common is empty, and the readings are of other valves in one visit than in the other.
	Readings []Reading
	BuildUps []deposit.BuildUp
	Common   []int
	// Whole are the readings of all valves, with their BuildUps.
	Whole         []Reading
	WholeBuildUps []deposit.BuildUp
	Valves        []Valve
	// Lines are a few plain sentences for an invoice.
	Lines []string
}

// Valve is one intake valve in all visits.
type Valve struct {
	Cylinder, Number int
	// States has one entry per visit.
	States []State
	// Comparison is nil with a single visit.
	Comparison *Comparison
}

// State is one valve in one visit.
type State struct {
	Reading
	// BuildUp says how thick its dark deposit is, "" where no photo was asked.
	BuildUp deposit.BuildUp
	// Overruled is a grade that a person gave beside the measured one, nil for none.
	Overruled *inspection.Overruled
	// Photos are all photos of the valve, refused ones included; none when the valve was not photographed. Used counts those
	// that its figures rest on.
	Photos []Photo
	Used   int
}

// Photo is one photo with what was said about it.
type Photo struct {
	// File is its name as the inspection gives it.
	File string
	// Place says which valve of the photo is meant, "" where it shows one.
	Place  string
	Record score.Record
	// LeftOut is nil for a photo that counts.
	LeftOut *inspection.LeftOut
	Pictures
}

// Name is the file's name, with the place of the valve where the photo shows several.
func (p Photo) Name() string {
	if p.Place == "" {
		return p.File
	}
	return p.File + ", " + p.Place
}

// Pictures show one photo.
type Pictures struct {
	// Plain is the photo, Marked the photo with outlines and deposit classes; nil when it cannot be shown, and then
	// Absent is the sentence that says why. A refused photo has no Marked.
	Plain, Marked *Picture
	Absent        string
	// HeadOn is the head as seen along its stem (draw.HeadOn); nil where it is not known or not needed, as once a model is
	// built.
	HeadOn *image.NRGBA
}

// Comparison is what became of one valve between two visits, measured on the part that both photos show. All figures are unmeasured
// when it was refused.
type Comparison struct {
	// Refused is the sentence on why nothing was compared, "" when it was; Outcome is the result in one sentence.
	Refused, Outcome string
	// Before and After are the hashes of the two photos, "" when there is none.
	BeforeSHA256, AfterSHA256 string
	// Comparable is the share, 0 to 1, of the readable valve that both photos show; NaN when only figures were
	// compared.
	Comparable float64
	// Changes hold dark deposit and index before and after, their differences and the smallest changes that the two
	// photos can show.
	compare.Changes
	// Left says where deposit is left: zones, then clock positions with the stem at 12, each the most first.
	Left []Residue
	// Map is the residue map, nil when there is none.
	Map *Picture
	// BeforeHead and AfterHead are both heads from one view, along the stem, laid on each other as they were compared;
	// nil when the two photos have no map in common, or cannot be shown.
	BeforeHead, AfterHead *Picture
}

// Whole reports whether all that either photo shows was compared, because what both of them show is not known.
func (c *Comparison) Whole() bool { return math.IsNaN(c.Comparable) }

// Residue is what is left in one place of the valve, such as "rim" or "4 o'clock". Index, 0 to 100, is of that place
// alone.
type Residue struct {
	Place string
	Index float64
}

// Shop is who writes the report. Everything may be empty.
type Shop struct {
	Name string
	// Address has one entry per line.
	Address             []string
	Phone, Email, About string
	Logo                *Picture
}

// Job is what the report is written for. Everything but Date may be empty.
type Job struct {
	Number, Customer, Technician, Remarks string
	// Date is the day of the report.
	Date time.Time
}
