package terminal

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/rivo/uniseg"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/ratings"
	"valvegrade/pkg/agree"
	"valvegrade/pkg/compare"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/score"
	"valvegrade/pkg/trend"
)

// assertFits fails when a line is wider than so many columns.
func assertFits(t *testing.T, text string, width int) {
	t.Helper()
	for line := range strings.Lines(text) {
		if wide := uniseg.StringWidth(strings.TrimRight(line, "\n")); wide > width {
			t.Errorf("%d columns, not %d: %s", wide, width, line)
		}
	}
}

// bothWidths prints a table at 80 and at 120 columns, where it must fit, and returns both.
func bothWidths(t *testing.T, print func(*bytes.Buffer, int) error) (narrow, wide string) {
	t.Helper()
	var texts []string
	for _, width := range []int{80, 120} {
		var out bytes.Buffer
		require.NoError(t, print(&out, width))
		assertFits(t, out.String(), width)
		texts = append(texts, out.String())
	}
	return texts[0], texts[1]
}

// widePhotos are photos of two valves each, with long names and wide figures; one has several remarks.
func widePhotos(t *testing.T) []score.Record {
	t.Helper()
	var photos []string
	for n := range 12 {
		photos = append(photos, fmt.Sprintf(`{"photo": "Aufnahmen vom 弁 im Winter/cyl%d-valve%d-with-a-long-name-before.jpg",
		  "valve_in_photo": %d, "valves_in_photo": 2, "status": "scored", "reasons": [], "grade": 2, "grade_name": "patchy",
		  "borderline": true, "shares": {}, "index": 39.8, "index_low": 10.2, "index_high": 100, "region_confidence": 1,
		  "dark": 100, "dark_low": 100, "dark_high": 100, "coverage": 100, "coverage_low": 100, "coverage_high": 100,
		  "probabilities": [0.05, 0.28, 0.2, 0.27, 0.2]}`, n/4+1, n/2%2+1, n%2+1))
	}
	d, err := score.ReadDocument(strings.NewReader(
		`{"schema": 1, "version": "1", "photos": [` + strings.Join(photos, ", ") + "]}",
	))
	require.NoError(t, err)
	d.Photos[5].Reasons = []reason.Reason{
		reason.Of(reason.Dim), reason.Of(reason.Glare), reason.Of(reason.ValveTooSmall), reason.Of(reason.Blurred),
	}
	return d.Photos
}

func TestPhotosWithLongNamesFitAndStayApart(t *testing.T) {
	photos := widePhotos(t)
	narrow, wide := bothWidths(t, func(out *bytes.Buffer, width int) error { return Table(out, photos, "", width) })
	assert.Contains(t, narrow, "\ncyl")
	assert.Contains(t, narrow, "2, perhaps 1 to 4  ")
	assert.NotContains(t, narrow, "INDEX (95 %)")
	assert.Contains(t, wide, "INDEX (95 %)")
	for _, text := range []string{narrow, wide} {
		var names []string
		for line := range strings.Lines(text) {
			if name, _, isRow := strings.Cut(line, "/2 "); isRow {
				names = append(names, name)
			}
		}
		assert.Len(t, names, 12)
		assert.Equal(t, 12, different(names), names)
	}
}

func TestRemarksAreInWordsWhereNamesNeedNotBeShortened(t *testing.T) {
	photos := widePhotos(t)[4:6]
	var out bytes.Buffer
	require.NoError(t, Table(&out, photos, "", 240))
	assert.Contains(t, out.String(), "  dim and noisy [1], glare on the valve [2], ")
	out.Reset()
	require.NoError(t, Table(&out, photos, "", 120))
	assert.Contains(t, out.String(), "  [1,2,3,4]\n")
}

func TestNamesAreCutWhereTheyDiffer(t *testing.T) {
	assert.Equal(t, []string{"left…t.jpg", "a.jpg", "righ…t.jpg"},
		apart([]string{"left-port.jpg", "a.jpg", "right-port.jpg"}, []int{10, 10, 10}))
	assert.Equal(t, []string{"cyl1-va1…g", "cyl1-va2…g", "cyl2-va1…g"},
		apart([]string{"cyl1-va1-before.jpg", "cyl1-va2-before.jpg", "cyl2-va1-before.jpg"}, []int{10, 10, 10}))
	same := strings.Repeat("a", 20)
	assert.Equal(t, []string{"aaaa…aaaa", "aaaa…aaaa", "b"}, apart([]string{same, same, "b"}, []int{9, 9, 9}), "one photo twice")
	inside := []string{same + "1" + same, same + "2" + same}
	assert.Equal(t, []string{"aaaa…aaaa", "aaaa…aaaa"}, apart(inside, []int{9, 9}), "too deep for any place to cut")
}

func TestEngineFitsAnyWidthFrom80On(t *testing.T) {
	i := facts()
	i.Vehicle = strings.Repeat("a vehicle with a long name ", 5)
	i.Methods = map[int]string{1: "walnut shells, twice, then a brush by hand", 3: "弁弁弁弁弁弁弁弁弁弁"}
	e := inspected(t, i, []float64{1, 8}, []float64{52, math.NaN()}, []float64{100, 98})
	for c := range e.Cylinders {
		e.Cylinders[c].Dark = measure.Figure{Value: 100, Low: 100, High: 100}
	}
	e.Cylinders[1].Grades, e.Cylinders[1].Index.Value = grade.Probabilities{0, 0.2, 0.3, 0.45, 0.05}, 39.9
	narrow, wide := bothWidths(t, func(out *bytes.Buffer, width int) error { return Engine(out, e, width) })
	assert.Contains(t, narrow, "                   GRADE         0-4    DARK DEPOSIT        PHOTOS  CLEANED BY\n")
	assert.Contains(t, narrow, "walnu…y hand\n")
	assert.Contains(t, wide, "INDEX (95 %)")
	assert.Contains(t, wide, "2, perhaps 3")

	e.Cylinders[1].Grades, e.Cylinders[1].Index.Value = grade.Probabilities{0.35, 0.1, 0.3, 0.21, 0.04}, 13.7
	narrow, wide = bothWidths(t, func(out *bytes.Buffer, width int) error { return Engine(out, e, width) })
	assert.Contains(t, narrow, "1, perhaps 0 to 3  ")
	assert.NotContains(t, narrow, "PHOTOS")
	assert.Contains(t, wide, "PHOTOS")

	e.Inspection.Methods = nil
	narrow, _ = bothWidths(t, func(out *bytes.Buffer, width int) error { return Engine(out, e, width) })
	assert.Contains(t, narrow, "PHOTOS\n")
}

func TestColumnsAreShortenedAndLeftOutUntilTheyFit(t *testing.T) {
	text := strings.Repeat("abcdefghij", 4)
	rows := func() [][]string {
		return [][]string{{"NAME", "KIND", "NOTE", "GRADE"}, {text, "one", text, "2"}, {"k", "other", "", "3"}}
	}
	narrow, wide := bothWidths(t, func(out *bytes.Buffer, width int) error {
		return FittingColumns(out, rows(), width, "NAME", "KIND", "NOTE")
	})
	assert.Contains(t, narrow, "\nabcdefghija…ijabcdefghij  one    "+text+"  2\n")
	assert.Contains(t, wide, text)
	var out bytes.Buffer
	require.NoError(t, FittingColumns(&out, rows(), 30, "NAME", "KIND", "NOTE"))
	assert.Equal(t, "NAME                     GRADE\nabcdefghija…jabcdefghij  2\nk                        3\n", out.String())
	out.Reset()
	require.NoError(t, FittingColumns(&out, rows(), 12, "NAME", "KIND", "NOTE"))
	assert.Equal(t, "NAME   GRADE\nab…ij  2\nk      3\n", out.String())
}

func TestComparisonFitsWhateverItsFigures(t *testing.T) {
	ends := []float64{0, 9.9, 50, 99, 100}
	for _, before := range ends {
		for _, after := range ends {
			c := measuredChange(before, after)
			one := &compare.Comparison{
				Before: &compare.View{}, After: &compare.View{}, Compared: true, Verdict: c.Verdict(),
				Changes: compare.Changes{Index: c, Dark: c, Coverage: c}, Common: math.NaN(),
			}
			bothWidths(t, func(out *bytes.Buffer, width int) error { return Comparison(out, one, width) })
		}
	}
}

// measuredChange is the widest that a change between two figures can be written.
func measuredChange(before, after float64) compare.Change {
	return compare.Change{
		Before:     measure.Figure{Value: before, Low: before, High: 100},
		After:      measure.Figure{Value: after, Low: after, High: 100},
		Difference: measure.Figure{Value: after - before, Low: -100, High: after}, Detectable: 100,
	}
}

func TestEngineComparisonShowsWhatThereIsRoomFor(t *testing.T) {
	c := measuredChange(100, 0)
	c.Difference.High = -99
	require.Equal(t, compare.NotDistinguishable, c.Verdict(), "the widest one")
	all := compare.Changes{Index: c, Dark: c, Coverage: c}
	valves := []compare.Valve{
		{Number: 1, Comparison: &compare.Comparison{Compared: true, Verdict: c.Verdict(), Changes: all}},
		{Number: 2, Comparison: &compare.Comparison{Changes: unmeasured()}},
	}
	e := &compare.Engine{
		Before:  &inspection.Inspection{Vehicle: strings.Repeat("long ", 20), Date: time.Unix(0, 0), Stage: inspection.Before},
		After:   &inspection.Inspection{Date: time.Unix(0, 0), Stage: inspection.After},
		Changes: all, Cylinders: []compare.Cylinder{{Number: 1000, Changes: all, Valves: valves}},
	}
	narrow, wide := bothWidths(t, func(out *bytes.Buffer, width int) error { return EngineComparison(out, e, width) })
	assert.Contains(t, narrow, "DARK, %  DIFFERENCE          INDEX    VERDICT\n")
	assert.Contains(t, wide, "DARK, %  DIFFERENCE          SURE ABOVE  INDEX    DIFFERENCE          SURE ABOVE  VERDICT\n")
	for _, table := range []string{narrow, wide} {
		assert.Contains(t, table, "  no sure change\n", "as the sentences say it")
	}
	var between bytes.Buffer
	require.NoError(t, EngineComparison(&between, e, 100))
	assert.Contains(t, between.String(), "DARK, %  DIFFERENCE          SURE ABOVE  INDEX    DIFFERENCE          VERDICT\n")
}

func TestTrendLeavesOutWhatALineRestsOn(t *testing.T) {
	var engines []*engine.Engine
	for n, index := range []float64{10, 30, 50} {
		i := facts()
		i.Vehicle = strings.Repeat("long ", 20)
		i.Date = i.Date.AddDate(0, n, 0)
		i.Odometer.Value += 100000 * float64(n)
		i.Stage = inspection.Routine
		engines = append(engines, inspected(t, i, []float64{index, index}, []float64{index, 100}))
	}
	tr, err := trend.Of(engines, "")
	require.NoError(t, err)
	narrow, wide := bothWidths(t, func(out *bytes.Buffer, width int) error { return Trend(out, tr, true, width) })
	assert.Contains(t, narrow, "ODOMETER, mi      INDEX")
	assert.NotContains(t, narrow, "READINGS")
	assert.Contains(t, wide, "READINGS")
}

func TestAgreementFitsWithLongNames(t *testing.T) {
	const long, longer = "Annegret-Marie who rates the photos of all shops", "somebody else whose name takes even more room than hers"
	list := "photo,rater,grade,index\n"
	for _, rater := range []string{long, longer, "B"} {
		for n := range 4 {
			list += fmt.Sprintf("a,%s,%d,%d\nb,%s,%d,%d\n", rater, n, 25*n, rater, 4-n, 100-n)
		}
	}
	read, err := ratings.Read("r.csv", strings.NewReader(list))
	require.NoError(t, err)
	a, err := agree.Analyse(read, long)
	require.NoError(t, err)
	narrow, wide := bothWidths(t, func(out *bytes.Buffer, width int) error { return Agreement(out, a, width) })
	assert.Contains(t, narrow, "\n  somebo…an hers \\ Annegre…l shops  0 bare")
	assert.Contains(t, narrow, "\n  B \\ Annegret-Mari…s of all shops  0 bare")
	assert.Contains(t, wide, "\n"+long+"  ")
}
