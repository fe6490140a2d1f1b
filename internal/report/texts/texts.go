// Package texts holds every fixed word of a report. Another language is another file beside english.go, and its name in
// all.
package texts

import "valvegrade/pkg/reason"

// Texts are the words of one language. Words with verbs of package fmt say in their comment what fills them, in order.
type Texts struct {
	// Language is its BCP 47 tag; RightToLeft is how it is written.
	Language    string
	RightToLeft bool

	Labels
	Numbers
	Sentences
	// Cleaning and Mileage are the words of two inspections, by what lies between them.
	Cleaning, Mileage Between
	Explanations

	// Grades are the five rows of the scale.
	Grades [5]Grade
	// Reasons hold the words for each code; a code that is missing here is told in the English of its table.
	Reasons map[reason.Code]Reason
	// phrases are what the program says in sentences of its own, in English those that hold days.
	phrases []Phrase
}

// Labels are headings, column heads and captions.
type Labels struct {
	Title, Inspection                                                  string
	Job, Date, Vehicle, Odometer, Customer, Technician, Remarks, Stage string
	Cylinder, Valve, Worst, Method, Photo, Taken                       string
	Grade, Index, Interval, Version                                    string
	Bare, Film, Medium, Heavy                                          string
	ShowMarks                                                          string
	Comparable                                                         string
	History, Growth, Scale, ReadsAs, Practice, Dark                    string
	HowMeasured, Limits, Cautions, Proof, Hash, Notes, Signature       string
	Rim, Fillet, StemZone                                              string
	Difference, EngineChartAlt, Cleaned                                string
	DarkDifference, LeftAlone                                          string
	TableKey, WorstKey, CleanedKey, ShowLarger                         string
	OneOnly, Neither, Cylinders                                        string
	ForWorkshop, Borderline, NotGraded, NoPhoto, AllLeftOut            string
	Routine, Result                                                    string
}

// Numbers are how figures are written.
type Numbers struct {
	// NotMeasured stands where there is no figure.
	NotMeasured string
	// Decimal stands before decimals, Thousands between them and the rest.
	Decimal, Thousands string
	// Percent, Below and AndUp take a number; Range and FromBelow two.
	Percent, Range, Below, FromBelow, AndUp string
	Months                                  [12]string
	// DateDayFirst and DateMonthFirst take day, month's name and year.
	DateDayFirst, DateMonthFirst string
	// TimeOfDay and TimeOfHalfDay are layouts of package time, for regions that count hours to 24, or to 12.
	TimeOfDay, TimeOfHalfDay string
	// Clock takes the hour of a clock position.
	Clock string
	// PageOf takes page and number of pages.
	PageOf string
}

// Sentences are made of what was found.
type Sentences struct {
	// GradeOf takes value and name; Perhaps the value of a likelier grade, PerhapsRun the first and last of several.
	GradeOf, Perhaps, PerhapsRun string
	// EngineSummary takes worst grade, cylinder, its index and interval, median grade; CylinderSummary, of an engine or
	// a photo of one cylinder, which is neither worst nor median, the grade, index and interval.
	EngineSummary, CylinderSummary string
	// What the comparison of the engine comes to. Helped takes how likely that is and a figure before and after;
	// DidNotHelp that figure, points and their interval; Grew and Fell the figure's name, points, their interval and Over,
	// which takes a distance, or nothing; NothingClaimed a figure before and after.
	Helped, DidNotHelp, Grew, Fell, Over, NothingClaimed string
	// StepsAlt takes a list of grades with their probabilities; the others say how thick the dark deposit is.
	StepsAlt, BuildUpThick, BuildUpThin, BuildUpUnknown, BuildUpUnknownSeveral string
	// Cylinders that say otherwise, or nothing: each takes their names, CylindersByChance the number of all, too.
	CylindersChanged, CylindersByChance, CylindersNotCompared, CylindersLeftAlone string
	// NothingGraded stands for the summary when no photo could be judged, NothingCounts when somebody left all of them
	// out.
	NothingGraded, NothingCounts string
	// Ungraded takes a list of cylinders, each as UngradedOne, which takes a number, or as its forms in Between.
	Ungraded, UngradedOne string
	// PhotoRefused takes cylinder, valve, the file's name and why; NoteLine a note.
	PhotoRefused, NoteLine string
	// ValveMissing takes cylinder, valve and why. OfValves takes a cylinder and those of its valves that are meant, as a
	// list; CommonKey that, ApartKey cylinders. ValvesOf stands behind a figure and takes of how many valves it is, and how
	// many there are.
	ValveMissing, OfValves, CommonKey, ApartKey, ValvesOf string
	// CautionsElsewhere stands where there is no room for the cautions.
	CautionsElsewhere string
	// DatedLater takes a date.
	DatedLater string
	// CylinderLine takes cylinder, grade, dark deposit and index with their intervals; CylinderMissing the cylinder,
	// CylinderRefused what was wrong with its photos, too.
	CylinderLine, CylinderMissing, CylinderRefused string
	// CleaningDue, NothingToDo and NotYetDue take how likely that is and what is commonly done then; CannotSay how
	// likely it is that cleaning is due.
	CleaningDue, NothingToDo, NotYetDue, CannotSay string
	// CylinderMethod takes cylinder and method, CylinderLeftAlone a cylinder; CylinderOutcome cylinder, what was compared
	// of it and a sentence on what has changed, see below. What was compared is the mean of its valves, or one valve, which
	// ValveWhole takes: all that its photos show, or what they have in common (MeanCommon, ValveCommon).
	CylinderMethod, CylinderLeftAlone, CylinderOutcome, MeanWhole, MeanMixed, ValveWhole string
	// CylinderNotCompared takes cylinder and reasons.
	CylinderNotCompared string
	// NotCompared takes the reason; ValveOutcome, and WholeOutcome where whole valves were compared, such a sentence.
	NotCompared, ValveOutcome, WholeOutcome string
	// Both takes a DarkChange and an IndexChange. NoChange takes that and from what size on a change is sure, in one of the
	// next two, which take a number, or in EitherLimit, which takes both; NothingCouldShow and Unclaimed take Both.
	Both, NoChange, DarkLimit, IndexLimit, EitherLimit, NothingCouldShow, Unclaimed string
	// ValveLine takes cylinder and valve.
	ValveLine string
	// PhotoAlt takes cylinder, valve, visit's title and grade; MarkedAlt cylinder and valve.
	PhotoAlt, MarkedAlt string
	// PhotoFigures takes dark deposit and index with their intervals, unreadable share, and one of the two that
	// follow.
	PhotoFigures string
	// OutlineFound takes the confidence of an outline that the program found; one set by hand has none. OutlineBy takes a name.
	OutlineFound, OutlineByHand, OutlineBy string
	// OverruledBy takes a name, a grade and a reason; LeftOutBy a name and a reason; Painted a share, PaintedBy a share
	// and a name.
	OverruledBy, LeftOutBy, Painted, PaintedBy string
	// OverruledAlt takes a grade, who gave it, and the measured grade in words; OverruledKey explains how both are drawn.
	OverruledAlt, OverruledKey string
	// ChartAlt takes what the chart follows.
	ChartAlt string
	// PhotoMissing and PhotoChanged take the file's name; PhotoOtherVersion takes the version of the saved result.
	// PhotoUnread takes the file's name; PhotoOtherMarks nothing. ValveInPhoto takes a number and of how many.
	PhotoMissing, PhotoChanged, PhotoOtherVersion, PhotoUnread, PhotoOtherMarks, ValveInPhoto string
	// GrowthLine takes points, their interval and the distance; ForecastLine grade, odometer, earliest
	// and latest; NoForecast the reason; Estimate, in the chart, the number of a grade.
	GrowthLine, ForecastLine, NoForecast, Estimate string
	// Written takes the program's version and a date.
	Written string
	// LostCharacters takes what stands for characters that paper cannot show, and their codes.
	LostCharacters string
}

// Between are words of two inspections of one engine that differ by what lies between the two.
type Between struct {
	// Before and After name the inspections; Change and ChangeOfWhole stand above a comparison.
	Before, After, Change, ChangeOfWhole, Divider, EngineChartKey string
	// Figures of a comparison. Removed and DarkRemoved are shares of what there was before.
	DarkBefore, DarkAfter, DarkRemoved, IndexBefore, IndexAfter, Removed string
	// Left stands above what the later photo shows in each place, ResidueMap below its picture, which Residue explains
	// and ResidueAlt describes; that takes cylinder and valve.
	Left, ResidueMap, Residue, ResidueAlt string
	// MeanKey says, below the table of the worst valves, what the summary is of.
	MeanKey string
	// UngradedBefore and UngradedAfter take a cylinder; NothingCompared the worst grades before and after.
	UngradedBefore, UngradedAfter, NothingCompared string
	// OfBefore and OfAfter take what is wrong with a photo of the inspection.
	OfBefore, OfAfter string
	// CylinderChange takes cylinder or OfValves, grade before, grade after; CylindersMore and CylindersLess names of cylinders.
	CylinderChange, CylindersMore, CylindersLess string
	// MeanCommon and ValveCommon say that what both photos show was compared, of a cylinder or a valve, which the second
	// takes.
	MeanCommon, ValveCommon string
	// DarkChange and IndexChange take a figure before and after. LessDeposit takes one of them, the share removed, its
	// interval and the other; MoreDeposit and FewerPoints one of them, points, their interval and the other.
	DarkChange, IndexChange, LessDeposit, MoreDeposit, FewerPoints string
}

// Explanations are whole paragraphs.
type Explanations struct {
	Measured, CannotTell, CautionList []string
	// MarkedKey explains what is drawn into the photos.
	MarkedKey string
	// StepsKey explains the bars beside a grade, and what build-up is.
	StepsKey string
	// HeadsKey explains two heads from one view.
	HeadsKey                   string
	ScaleNote, Verify, Privacy string
}

// Between are the words of two inspections that a cleaning lies between, or miles.
func (t *Texts) Between(cleaned bool) Between {
	if cleaned {
		return t.Cleaning
	}
	return t.Mileage
}
