package verify_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/report/verify"
	"valvegrade/pkg/deposit"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
	"valvegrade/pkg/unroll"
)

// document returns an inspection of package report's testdata: invented figures.
func document(t *testing.T, name string) *engine.Graded {
	t.Helper()
	facts, err := os.ReadFile(filepath.Join("..", "..", "..", "pkg", "report", "testdata", name+".yaml"))
	require.NoError(t, err)
	i, err := inspection.Parse(name, facts)
	require.NoError(t, err)
	text, err := os.ReadFile(filepath.Join("..", "..", "..", "pkg", "report", "testdata", name+".json"))
	require.NoError(t, err)
	photos, err := score.ReadDocument(bytes.NewReader(text))
	require.NoError(t, err)
	d, err := engine.Of(i, photos)
	require.NoError(t, err)
	return d
}

// reportText returns the report before and after as JSON.
func reportText(t *testing.T) string {
	t.Helper()
	return reportOf(t, fresh)
}

// saved is a photo whose figures were taken from a saved result.
func saved(*score.Record) *unroll.Packed { return nil }

// fresh is the map of a photo that was scored for a report: no outline, and draws that are sure of everything.
func fresh(r *score.Record) *unroll.Packed {
	if r.Status != score.Scored {
		return nil
	}
	figures := r.Reading()
	return (&unroll.Map{Draws: deposit.Draws{
		Index: []float64{figures.Index.Value}, Dark: []float64{figures.Dark.Value},
		Coverage: []float64{figures.Coverage.Value}, Weight: []float64{1},
	}}).Pack()
}

// reportOf returns the report before and after as JSON, its photos mapped as given.
func reportOf(t *testing.T, mapped func(*score.Record) *unroll.Packed) string {
	t.Helper()
	return written(t, report.Input{}, mapped, "before", "after")
}

// written returns the report of inspections as JSON, in a locale and for the readers that are given.
func written(t *testing.T, in report.Input, mapped func(*score.Record) *unroll.Packed, inspections ...string) string {
	t.Helper()
	in.Job.Date = time.Date(2026, 3, 16, 0, 0, 0, 0, time.UTC)
	for _, name := range inspections {
		d := document(t, name)
		for n := range d.Photos {
			d.Photos[n].Map = mapped(&d.Photos[n])
		}
		in.Visits, in.Program = append(in.Visits, report.Source{Graded: d}), d.Photos[0].Version
	}
	m, err := report.Build(in)
	require.NoError(t, err)
	var text strings.Builder
	require.NoError(t, m.WriteJSON(&text))
	return text.String()
}

func read(t *testing.T, text string) *verify.Saved {
	t.Helper()
	saved, err := verify.Read(strings.NewReader(text))
	require.NoError(t, err)
	return saved
}

func TestReportsInspectionsAndPhotosAreRead(t *testing.T) {
	saved := read(t, reportText(t))
	assert.Len(t, saved.Photos, 8)
	assert.Empty(t, saved.Faults)

	var text strings.Builder
	require.NoError(t, document(t, "before").Write(&text))
	saved = read(t, text.String())
	assert.Len(t, saved.Photos, 5)
	assert.Empty(t, saved.Faults)

	photos, err := os.ReadFile("../../../pkg/report/testdata/before.json")
	require.NoError(t, err)
	assert.Len(t, read(t, string(photos)).Photos, 5)
}

func TestWhatIsNoResultIsRefused(t *testing.T) {
	for name, text := range map[string]string{
		"empty": "", "no JSON": "grade,index\n", "a list": "[]", "half": reportText(t)[:3000], "no photos in it": `{"inspections": [{"schema": 7}]}`,
	} {
		_, err := verify.Read(strings.NewReader(text))
		assert.ErrorIs(t, err, score.ErrDocument, name)
	}
}

// Figures that were combined must follow from those of the photos.
func TestForgedSummariesAreFound(t *testing.T) {
	for name, c := range map[string][3]string{
		"list of valves":     {`"valve": 1,` + "\n      " + `"states": [`, `"valve": 2,` + "\n      " + `"states": [`, "valves[0].valve does not follow"},
		"unknown valve":      {`"valve": 1,` + "\n      " + `"states": [`, `"valve": 7,` + "\n      " + `"states": [`, "valves[0].valve does not follow"},
		"interval of a list": {`"index_low": 38.82,` + "\n          " + `"index_high"`, `"index_low": 40,` + "\n          " + `"index_high"`, "valves[1].states[0].index_low does not follow"},
		"worst of an engine": {`"worst_cylinder": 1`, `"worst_cylinder": 2`, ": worst_cylinder does not follow"},
		"another vehicle":    {`"vehicle": "fleet-17",` + "\n  " + `"summary"`, `"vehicle": "fleet-18",` + "\n  " + `"summary"`, "vehicle does not follow from the inspections"},
		"another method":     {`"method": "soaked and brushed",` + "\n      " + `"lines"`, `"method": "blasting",` + "\n      " + `"lines"`, "cylinders[0].method does not follow"},
		"a valve's index":    {`"index": 43.01,` + "\n                " + `"index_low"`, `"index": 3.01,` + "\n                " + `"index_low"`, "does not follow"},
	} {
		text := reportText(t)
		require.Contains(t, text, c[0], name)
		saved := read(t, strings.Replace(text, c[0], c[1], 1))
		assert.Contains(t, strings.Join(saved.Faults, "\n"), c[2], name)
	}
}

func TestAListWithoutValvesIsFound(t *testing.T) {
	text := reportText(t)
	from, to := strings.Index(
		text,
		`"valves": [`+"\n    {\n      "+`"cylinder"`,
	), strings.Index(
		text,
		`"inspections": [`,
	)
	require.Positive(t, from)
	require.Greater(t, to, from)
	for _, list := range []string{`"valves": [], `, `"valves": null, `, ""} {
		assert.Contains(
			t,
			read(t, text[:from]+list+text[to:]).Faults,
			"valves does not follow from the inspections of the report",
		)
	}
}

// scoredAgain are the results of all photos with their maps.
func scoredAgain(saved *verify.Saved) []score.Record {
	again := slices.Clone(saved.Photos)
	for n := range again {
		again[n].Map = fresh(&again[n])
	}
	return again
}

// rewritten returns what is wrong with the comparison and the sentences of a report.
func rewritten(t *testing.T, text string) string {
	t.Helper()
	saved := read(t, text)
	require.Empty(t, saved.Faults)
	require.True(t, saved.Tells())
	faults, err := saved.Rewrite(scoredAgain(saved))
	require.NoError(t, err)
	return strings.Join(faults, "\n")
}

// A report is as good when some of its photos were missing as it was written: they were compared by their saved
// figures.
func TestComparisonFollowsFromThePhotos(t *testing.T) {
	beforeOnly := func(r *score.Record) *unroll.Packed {
		if r.Index.Value() > 30 {
			return fresh(r)
		}
		return nil
	}
	for name, mapped := range map[string]func(*score.Record) *unroll.Packed{"given": fresh, "missing": saved, "some missing": beforeOnly} {
		assert.Empty(t, rewritten(t, reportOf(t, mapped)), name)
	}
}

func TestForgedComparisonsAreFound(t *testing.T) {
	text := reportText(t)
	at := strings.Index(text, `"comparison": {`)
	require.Positive(t, at)
	for name, c := range map[string][3]string{
		"share removed":    {`"removed_share": 0.9`, `"removed_share": 0.99`, ".removed_share does not follow from the photos"},
		"index of a valve": {`"after": 1,`, `"after": 0.5,`, "cylinders[0].valves[0].index.after does not follow"},
		"verdict":          {`"verdict": "changed"`, `"verdict": "not distinguishable"`, ": verdict does not follow"},
		"reading":          {`"odometer": 45210`, `"odometer": 15210`, ": before.odometer does not follow"},
		"note":             {`"notes": [`, `"notes": ["all is well",`, ": notes does not follow"},
		"none":             {`"comparison": {`, `"comparison": null, "was": {`, "everything does not follow"},
		"no object":        {`"comparison": {`, `"comparison": 3, "was": {`, "no comparison"},
		"taken out":        {`"comparison": {`, `"was": {`, "no comparison"},
	} {
		require.Contains(t, text[at:], c[0], name)
		assert.Contains(t, rewritten(t, text[:at]+strings.Replace(text[at:], c[0], c[1], 1)), c[2], name)
	}
	forged := strings.Replace(
		text,
		`"vehicle": "fleet-17",`+"\n        "+`"date": "2026-03-15"`,
		`"vehicle": "fleet-18",`+"\n        "+`"date": "2026-03-15"`,
		1,
	)
	require.NotEqual(t, text, forged)
	assert.Contains(t, strings.Join(read(t, forged).Faults, "\n"), `"fleet-17" and "fleet-18"`)
}

func TestEverythingMatches(t *testing.T) {
	saved, again := document(t, "before").Photos, document(t, "before").Photos
	for n := range again {
		again[n].Photo = "moved/" + filepath.Base(again[n].Photo)
	}
	for _, c := range verify.Compare(saved, again) {
		assert.Equal(t, verify.Same, c.Verdict)
		assert.Empty(t, c.Why)
	}
}

func TestEveryDifferenceHasItsVerdict(t *testing.T) {
	other, two := "0123", 2
	byHand := region.ByHand
	for name, c := range map[string]struct {
		change  func(r *score.Record)
		verdict verify.Verdict
		says    string
	}{
		"changed file":                  {func(r *score.Record) { r.SHA256 = &other }, verify.OtherBytes, "not the one that was scored"},
		"later version, same figures":   {func(r *score.Record) { r.Version = "2+net.1" }, verify.OtherVersion, "every figure is the same"},
		"later version, same grade":     {func(r *score.Record) { r.Version, r.IndexLow = "2+net.1", r.CoverageLow }, verify.OtherVersion, "same grade, other figures"},
		"later version, another grade":  {func(r *score.Record) { r.Version, r.Grade = "2+net.1", &two }, verify.OtherVersion, "grade 3 with index 60.00 then, grade 2 with index 60.00 now"},
		"forged grade":                  {func(r *score.Record) { r.Grade = &two }, verify.OtherFigures, "the report or the marks beside the photo were changed"},
		"forged coverage":               {func(r *score.Record) { r.Coverage = r.CoverageLow }, verify.OtherFigures, "grade 3"},
		"another processor":             {processor, verify.SameWithin, "within 0.05 points"},
		"index beyond the tolerance":    {func(r *score.Record) { processor(r); r.Index = more(r.Index, 0.06) }, verify.OtherFigures, "or the marks beside"},
		"another reason":                {func(r *score.Record) { processor(r); r.Reasons = []reason.Reason{reason.Of(reason.Glare)} }, verify.OtherFigures, "or the marks beside"},
		"forged share":                  {func(r *score.Record) { r.Shares.Heavy = more(r.Shares.Heavy, 0.001) }, verify.OtherFigures, "or the marks beside"},
		"outlines set by hand":          {func(r *score.Record) { r.RegionSource = &byHand }, verify.OtherFigures, "c1v1.jpg.marks.yaml"},
		"refused now":                   {func(r *score.Record) { r.Status, r.Grade = score.Refused, nil }, verify.OtherFigures, "not graded by measurement"},
		"renamed":                       {func(r *score.Record) { r.Photo = "renamed.jpg" }, verify.Same, ""},
		"renamed and changed, so other": {func(r *score.Record) { r.Photo, r.SHA256 = "renamed.jpg", &other }, verify.NotGiven, "no photo with these bytes"},
	} {
		saved, again := document(t, "before").Photos, document(t, "before").Photos
		c.change(&again[0])
		checks := verify.Compare(saved, again)
		assert.Equal(t, c.verdict, checks[0].Verdict, name)
		assert.Contains(t, checks[0].Why, c.says, name)
		for _, rest := range checks[1:len(saved)] {
			assert.Equal(t, verify.Same, rest.Verdict, name)
		}
	}
}

// pair returns the records of a photo with two valves, of which the second is the larger.
func pair(t *testing.T) []score.Record {
	t.Helper()
	two := []score.Record{document(t, "before").Photos[0], document(t, "before").Photos[0]}
	for n := range two {
		two[n].ValveInPhoto, two[n].ValvesInPhoto, two[n].Pixels = n+1, 2, new(1000*(n+1))
	}
	two[1].Coverage = two[1].CoverageLow // something that tells them apart
	return two
}

func TestValvesOfOnePhotoAreVerifiedByThemselves(t *testing.T) {
	for _, c := range verify.Compare([]score.Record{pair(t)[1], pair(t)[0]}, pair(t)) {
		assert.Equal(t, verify.Same, c.Verdict, "in the order of the engine, where the right valve may come first")
	}
	for _, c := range verify.Compare(pair(t)[1:], pair(t)) {
		assert.Equal(t, verify.Same, c.Verdict, "listed for one valve, which is the largest")
	}
	forged := pair(t)[:1]
	checks := verify.Compare(forged, pair(t))
	require.Len(t, checks, 1)
	assert.Equal(t, verify.OtherFigures, checks[0].Verdict, "another valve than the largest")

	other := pair(t)
	other[1].Grade = new(0)
	checks = verify.Compare(other, pair(t))
	assert.Equal(
		t,
		[]verify.Verdict{verify.Same, verify.OtherFigures},
		[]verify.Verdict{checks[0].Verdict, checks[1].Verdict},
	)
}

func TestFewerValvesThanListedAreVerified(t *testing.T) {
	one := document(t, "before").Photos[:1]
	saved := engine.Listed(2, one)
	checks := verify.Compare(saved, one)
	require.Len(t, checks, 2)
	for _, c := range checks {
		assert.Equal(t, verify.Same, c.Verdict, c.Why)
	}
	checks = verify.Compare(saved, pair(t))
	assert.Equal(t, verify.OtherFigures, checks[0].Verdict, "both are in view")
}

func TestMissingAndForeignPhotos(t *testing.T) {
	saved, again := document(t, "before").Photos, document(t, "after").Photos[1:2]
	again[0].Photo = "stranger.jpg"
	checks := verify.Compare(saved, again)
	require.Len(t, checks, len(saved)+1)
	for n := range saved {
		assert.Equal(t, verify.NotGiven, checks[n].Verdict)
	}
	last := checks[len(saved)]
	assert.Equal(t, verify.NotInReport, last.Verdict)
	assert.Nil(t, last.Saved)
}

// Before and after often have the same file names: bytes decide, and a changed photo is not taken for its namesake.
func TestNamesakesAreToldApart(t *testing.T) {
	saved := append(document(t, "before").Photos[:1:1], document(t, "after").Photos[0])
	again := []score.Record{saved[1], saved[0]}
	for _, c := range verify.Compare(saved, again) {
		assert.Equal(t, verify.Same, c.Verdict)
	}
	changed := "0123"
	again[1].SHA256 = &changed
	checks := verify.Compare(saved, again)
	assert.Equal(
		t,
		[]verify.Verdict{verify.OtherBytes, verify.Same},
		[]verify.Verdict{checks[0].Verdict, checks[1].Verdict},
	)
}

// Whatever a file holds, reading and comparing it end in an error or a verdict. The seeds are short, or the fuzzer
// spends its time on shortening them.
func FuzzRead(f *testing.F) {
	const photos = `"schema":1,"photos":[{"photo":"a","status":"refused"}]`
	const engine = `"inspection":{"schema":1,"scale":1,"vehicle":"v","date":"2026-03-14","odometer":1,"odometer_unit":"mi","stage":"after",` +
		`"cylinders":[{"cylinder":1,"valves":[{"valve":1,"photos":[{"photo":"a"}]}]}]}`
	for _, seed := range []string{
		"{" + photos + "}", "{" + photos + "," + engine + "}",
		`{"inspections":[{` + photos + "," + engine + `}],"valves":[{"cylinder":1,"valve":1,"states":[{"grade":1,"index":2}]}]}`,
	} {
		_, err := verify.Read(strings.NewReader(seed))
		require.NoError(f, err)
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		saved, err := verify.Read(bytes.NewReader(text))
		if err != nil {
			return
		}
		assert.Len(t, verify.Compare(saved.Photos, saved.Photos), len(saved.Photos))
		_, err = saved.Rewrite(scoredAgain(saved))
		assert.NoError(t, err)
	})
}
