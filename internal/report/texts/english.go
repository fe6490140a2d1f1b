package texts

import "valvegrade/pkg/grade"

// English is the language of the program.
var English = Texts{
	Language: "en",
	Labels: Labels{
		Title: "Intake valve inspection", Inspection: "Inspection", Before: "Before cleaning", After: "After cleaning",
		Job: "Job", Date: "Date", Vehicle: "Vehicle", Odometer: "Odometer", Customer: "Customer", Technician: "Technician",
		Remarks: "Remarks", Stage: "Stage", Cylinder: "Cylinder", Valve: "Valve", Worst: "Worst cylinder",
		Method: "Cleaned by", Photo: "Photo", Taken: "Taken",
		Grade: "Grade", Index: "Deposit index", Interval: "95 % interval",
		Version: "Version",
		Bare:    "bare", Film: "film", Medium: "medium", Heavy: "heavy",
		ShowMarks: "Show what was measured",
		Change:    "Before and after, on what both photos show", ChangeOfWhole: "Before and after",
		Comparable: "Seen in both photos", Removed: "Index removed", Left: "Deposit left",
		ResidueMap: "Residue map", Divider: "Move the divider between before and after",
		History: "Over the odometer", Growth: "Growth", Scale: "The scale", ReadsAs: "Reads as",
		Practice: "Common practice", HowMeasured: "How it was measured", Limits: "What a photo cannot tell", Cautions: "Cautions",
		Proof: "Photos and versions", Hash: "SHA-256", Notes: "Notes", Signature: "Signature",
		Borderline: "borderline", NotGraded: "not graded", NoPhoto: "no photo", Routine: "Routine",
		Rim: "rim", Fillet: "fillet", StemZone: "stem",
		IndexBefore: "Index before, on that", IndexAfter: "Index after, on that", Difference: "Difference",
		WholeBefore: "Index before", WholeAfter: "Index after",
		EngineChartAlt: "Chart of the deposit index of every cylinder with its 95 % interval; the table above holds its figures.",
		TableKey:       "A cylinder has the grade and index of its worst valve, on all that its photos show.",
		ShowLarger:     "Show larger",
		EngineChartKey: "Hollow: before cleaning. Filled: after cleaning. Bars: 95 % intervals.",
		Result:         "Result", Cleaned: "cleaned", OneOnly: "in one photo only, or unreadable", Neither: "in neither",
	},
	Numbers: Numbers{
		NotMeasured: "–", Percent: "%s\u00a0%%", Range: "%s to %s", Below: "below %s", FromBelow: "%s to below %s", AndUp: "%s and up",
		Months: [12]string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
			"November", "December"},
		DateDayFirst: "%[1]d %[2]s %[3]d", DateMonthFirst: "%[2]s %[1]d, %[3]d", Clock: "%d o'clock", PageOf: "Page %s of %s",
	},
	Sentences: Sentences{
		GradeOf: "grade %d %s", GradeBorderline: "grade %d %s (borderline)",
		EngineSummary: "Worst cylinder: %[2]d, %[1]s, deposit index %[3]s (95 %% interval %[4]s). Median cylinder: %[5]s.",
		ChangeSummary: "Worst cylinder: %s before cleaning, %s after. Median cylinder: %s before, %s after.",
		NothingGraded: "No photo could be judged: nothing is graded.",
		Ungraded:      "Not graded: %s.", UngradedOne: "cylinder %d", UngradedBefore: "cylinder %d before cleaning", UngradedAfter: "cylinder %d after cleaning",
		PhotoRefused: "Cylinder %d, valve %d, %s: not graded, %s: %s.", NoteLine: "Note: %s.",
		DatedLater:   "the inspection is dated %s, after the day of this report: check both dates",
		CylinderLine: "Cylinder %d: %s, deposit index %s of 100 (95 %% interval %s).", CylinderMissing: "Cylinder %d: not graded.",
		PracticeLine:   "Common practice: %s.",
		CylinderChange: "Cylinder %d: %s before cleaning, %s after.", CylinderMethod: "Cylinder %d was cleaned by: %s.",
		CylinderOutcome: "Cylinder %d, %s: %s",
		MeanCommon:      "mean of its valves, on what their photos before and after both show",
		MeanWhole:       "mean of its valves, on all that their photos show", MeanMixed: "mean of its valves",
		ValveCommon: "valve %d, on what its photos before and after both show", ValveWhole: "valve %d, on all that its photos show",
		NotCompared:  "Not compared: %s.",
		ValveOutcome: "On the surface that both photos show: %s", WholeOutcome: "On all that the two photos show: %s",
		NoChange:         "index %s before, %s after: the difference is too small to be sure of; it would have to exceed %s points.",
		NothingCouldShow: "index %s before, %s after: the intervals are too wide to show any change.",
		LessDeposit:      "index %s before, %s after: %s removed (95 %% interval %s to %s).",
		MoreDeposit:      "index %s before, %s after: %s points more than before (95 %% interval %s to %s).",
		ValveLine:        "Cylinder %d, valve %d",
		PhotoAlt:         "Photo of cylinder %d, valve %d, %s: %s.", MarkedAlt: "The same photo with the outlines of head and stem of cylinder %d, valve %d, and the deposit classes as tints.",
		ResidueAlt:   "Map of the deposit left on cylinder %d, valve %d.",
		PhotoFigures: "Deposit index %s, coverage %s (%s to %s), unreadable %s, %s.",
		OutlineFound: "outline confidence %s", OutlineByHand: "outline set by hand",
		ChartAlt:          "Chart of the deposit index over the odometer, %s; the table below holds its figures.",
		PhotoMissing:      "The photo %s was not found: its saved figures are shown without a picture.",
		PhotoChanged:      "The file %s is not the photo that was graded (its SHA-256 differs): its saved figures are shown without a picture.",
		PhotoOtherVersion: "Graded by version %s, which is not the one that writes this report: the photo is shown without deposit classes.",
		ValveInPhoto:      "valve %d of %d from the left",
		PhotoUnread:       "The file %s could not be read as a photo.",
		PhotoOtherMarks:   "The photo now reads differently, because its outlines were set anew: its saved figures are shown without deposit classes.",
		GrowthLine:        "%s index points (95 %% interval %s) per %s.",
		ForecastLine:      "Estimate: %s is reached at about %s (95 %% range %s to %s), if the engine is driven and serviced as before.",
		NoForecast:        "No forecast: %s.", Estimate: "estimate: grade %d",
		Written:        "Written by valvegrade %s on %s.",
		LostCharacters: "The fonts of this document lack some characters, which stand as %s in it (%s). The report as a page shows them.",
	},
	Explanations: Explanations{
		Measured: []string{
			"The program finds the head and the stem of the valve in each photo. Where a technician has set the outlines by hand, these are used instead.",
			"Every readable pixel of the valve gets one of four classes: bare metal; film, a tint without relief; medium, a crust with relief; heavy, a crust thicker than about 8 % of the stem's diameter. Glare, black shadow and blur are set aside as unreadable and count neither way.",
			"Coverage is the share of readable pixels that carry any deposit. The deposit index is 100 × (1.00 heavy + 0.50 medium + 0.25 film), as shares of the readable pixels. Area times a factor per level is the practice of engine-test deposit rating; the factors are from memory of that practice, and letting a film count with 0.25 is the program's own choice. It is an index of area, not a mass.",
			"The 95 % interval says within which limits the true index is expected. A grade is called borderline when this interval crosses a limit of the scale.",
			"A valve with several photos gets their mean, weighted by the readable area and by how sure the outline is. A cylinder has the grade of its worst valve.",
			"Each photo is read twice: by a trained net, and by a formula from relief, sheen and tint. Where the two contradict each other, the report says so.",
		},
		CannotTell: []string{
			"A photo shows a surface. Thickness is judged from relief and look. Polished metal that mirrors a dark port can look like crust, and a thin even crust like dull metal.",
			"What the valve guide or the camera's view hides is not graded.",
		},
		CautionList: []string{
			"A grade describes what the photo shows; it does not diagnose a misfire, and it does not replace the maker's service information, local rules or a licensed technician.",
			"Before soaking or blasting: engine cold, ignition and fuel disabled, and the valves of that cylinder fully closed, turned by hand in the normal direction of rotation.",
			"Media or solvent past an open valve destroys the engine. The program cannot confirm that a valve is closed.",
			"Wear eye and breathing protection for blasting. Solvents are flammable; chlorinated cleaners and hot metal make poison gas.",
			"Take out every bit of media and bristle, and count tool pieces, before the intake goes back on.",
		},
		MarkedKey: "In the photos: the pale blue line is the outline of head and stem, tints are deposit classes, hatching is what could not be read.",
		ScaleNote: "Scale version %d. Common practice is to be confirmed with the maker's service information.",
		Verify:    "Anyone who has the photos can repeat the grading: the command “valvegrade verify REPORT.json PHOTOS” scores them again and says whether hashes, versions and grades match, figures within 0.05 points, which another processor may change. The SHA-256 of a file changes when any part of it does.",
		Privacy:   "Pictures in this report are drawn from the pixels alone. Of what else a photo's file may tell, only the time at which it was taken is told; positions are not copied.",
		Residue:   "The valve as its stem points to 12 o'clock, before and after, and the stem unrolled below it. Only what both photos show is coloured; the darker, the thicker the deposit.",
	},
	Grades: grades(
		"metal everywhere",
		"tint or a few spots",
		"crust in patches, or film all over",
		"most of the valve carries crust",
		"thick crust nearly everywhere",
	),
}

// grades takes names and practice from the scale itself, so that the two never tell different stories.
func grades(readsAs ...string) (rows [5]Grade) {
	for value, name := range grade.Names() {
		rows[value] = Grade{Name: name, ReadsAs: readsAs[value], Practice: grade.PracticeForm(value)}
	}
	return rows
}
