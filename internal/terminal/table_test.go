package terminal

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/grade"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
	"valvegrade/pkg/score"
)

const saved = `{"schema": 1, "version": "1", "photos": [
 {"photo": "port 1.jpg", "status": "scored", "reasons": [], "grade": 3, "grade_name": "crusted", "borderline": false, "shares": {},
  "index": 52.13, "index_low": 47.8, "index_high": 56.31, "dark": 62.2, "dark_low": 57, "dark_high": 66, "coverage": 81.4, "coverage_low": 76, "coverage_high": 86, "region_confidence": 0.934},
 {"photo": "p2.jpg", "status": "scored", "reasons": [{"code": "glare", "advice": "9 % is glare: tilt the tip"}, {"code": "later-code", "advice": "look again"}],
  "grade": 0, "grade_name": "bare", "borderline": true, "shares": {},
  "index": 1.9, "index_low": 0, "index_high": 4.4, "coverage": 5, "coverage_low": 1, "coverage_high": 9, "region_confidence": null},
 {"photo": "bad\u001b[2J.jpg", "status": "refused", "reasons": [{"code": "blurred", "advice": "wipe the lens"}]}
]}`

func TestTable(t *testing.T) {
	d, err := score.ReadDocument(strings.NewReader(saved))
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, Table(&out, d.Photos, "", 140))
	assert.Equal(
		t,
		`PHOTO             GRADE       0-4    DARK DEPOSIT     CLEANING   INDEX (95 %)   OUTLINE  REMARKS
port 1.jpg        3 crusted   ▁▁▁█▁  62 % (57 to 66)  due 99 %   52 (48 to 56)  93 %
p2.jpg            0 bare      ▅▄▁▁▁  -                none 99 %  1.9 (0 to 4)   -        glare on the valve [1], later-code [2]
"bad\x1b[2J.jpg"  not graded         -                -          -              -        out of focus [3]

due, grade 3: plan a cleaning
none: nothing to do
[1] glare on the valve: 9 % is glare: tilt the tip
[2] later-code: look again
[3] out of focus: wipe the lens
`,
		out.String(),
	)
}

func TestTableHasARowForEachValve(t *testing.T) {
	d, err := score.ReadDocument(strings.NewReader(`{"schema": 1, "version": "1", "photos": [
	 {"photo": "port.jpg", "valve_in_photo": 1, "valves_in_photo": 2, "status": "scored", "reasons": [], "grade": 3, "grade_name": "crusted",
	  "borderline": false, "shares": {}, "index": 52.13, "index_low": 47.8, "index_high": 56.31, "dark": 62.2, "dark_low": 57, "dark_high": 66, "coverage": 81.4, "coverage_low": 76,
	  "coverage_high": 86, "region_confidence": 0.934},
	 {"photo": "port.jpg", "valve_in_photo": 2, "valves_in_photo": 2, "status": "refused", "reasons": [{"code": "blurred", "advice": "wipe the lens"}]},
	 {"photo": "cyl1.jpg", "status": "refused", "reasons": [{"code": "fewer-valves", "advice": "retake it"}]},
	 {"photo": "cyl1.jpg", "status": "refused", "reasons": [{"code": "fewer-valves", "advice": "retake it"}]}
	]}`))
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, Table(&out, d.Photos, "", 120))
	assert.Equal(t, `PHOTO         GRADE       0-4    DARK DEPOSIT     CLEANING  INDEX (95 %)   OUTLINE  REMARKS
port.jpg 1/2  3 crusted   ▁▁▁█▁  62 % (57 to 66)  due 99 %  52 (48 to 56)  93 %
port.jpg 2/2  not graded         -                -         -              -        out of focus [1]
cyl1.jpg 1/2  not graded         -                -         -              -        fewer valves than listed [2]
cyl1.jpg 2/2  not graded         -                -         -              -        fewer valves than listed [2]

due, grade 3: plan a cleaning
[1] out of focus: wipe the lens
[2] fewer valves than listed: retake it
`, out.String())
}

// A kind of remark is told once: where several photos have it, in the words of the table of reasons.
func TestNarrowTable(t *testing.T) {
	photos := make([]score.Record, 3)
	for n := range photos {
		photos[n] = score.Record{
			Photo: fmt.Sprintf(
				"a-long-folder-of-a-camera/with-a-longer-one-in-it/IMG_%04d.jpg",
				n,
			), Status: score.Refused,
			Reasons: []reason.Reason{
				reason.With(reason.ValveTooSmall, fmt.Sprintf("%d %% of the frame", n)),
				reason.Of(reason.Dim),
			},
			ValveInPhoto: 1, ValvesInPhoto: 1,
		}
	}
	photos[2].ValvesInPhoto = 2
	var out bytes.Buffer
	require.NoError(t, Table(&out, photos, "", 60))
	assert.Equal(t, `PHOTO             GRADE       DARK DEPOSIT  CLEANING  REMARKS
IMG_0000.jpg      not graded  -             -         [1,2]
IMG_0001.jpg      not graded  -             -         [1,2]
IMG_0002.jpg 1/2  not graded  -             -         [1,2]

[1] valve too small: come closer until the valve fills at
    least a tenth of the frame, and retake
[2] dim and noisy: turn the light up or go closer: noise
    hides fine texture, so the interval is wide
`, out.String())
}

// A distance is told in the unit of the odometer and no other.
func TestTheNextInspectionIsToldInTheUnitOfTheOdometer(t *testing.T) {
	patchy := score.Record{Photo: "a.jpg", Status: score.Scored, Written: grade.Written{Grade: new(2)}}
	patchy.Probabilities = probabilities(0, 0.02, 0.96, 0.02, 0)
	for unit, again := range map[inspection.Unit]string{
		"": "15 000 to 20 000 mi", inspection.Miles: "15 000 to 20 000 mi", inspection.Kilometres: "24 000 to 32 000 km",
	} {
		var out bytes.Buffer
		require.NoError(t, Table(&out, []score.Record{patchy}, unit, 120))
		assert.Contains(t, out.String(), "\nwatch: inspect again in "+again+"\n", unit)
	}
}

// probabilities are those of the grades 0 to 4 as a record has them.
func probabilities(shares ...float64) (written []measure.Number) {
	for _, share := range shares {
		written = append(written, measure.Rounded(share, 2))
	}
	return written
}

func TestShortened(t *testing.T) {
	assert.Equal(t, "port.jpg", shortened("port.jpg", 8))
	assert.Equal(t, "por…jpg", shortened("port.jpg", 7))
	assert.Equal(t, "po…jpg", shortened("port.jpg", 6))
	assert.Equal(t, "弁…pg", shortened("弁弁弁.jpg", 5), "弁 takes two places")
	assert.Equal(t, "…", shortened("port.jpg", 1))
}

func TestWidthIsThatOfTheTerminalOrTheVariable(t *testing.T) {
	t.Setenv("COLUMNS", "")
	assert.Equal(t, 80, Width(new(bytes.Buffer)))
	t.Setenv("COLUMNS", "132")
	assert.Equal(t, 132, Width(new(bytes.Buffer)))
	t.Setenv("COLUMNS", "wide")
	assert.Equal(t, 80, Width(new(bytes.Buffer)))
}

func TestNothingToShowPrintsNothing(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, Table(&out, nil, "", 80))
	assert.Empty(t, out.String())
}

// 弁 takes two places on a screen, a letter with its accent apart takes one.
func TestColumnsStandBelowOneAnother(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, Columns(&out, [][]string{{"弁弁", "x"}, {"e\u0301", "x"}, {"abcd", "x"}}))
	assert.Equal(t, "弁弁  x\ne\u0301     x\nabcd  x\n", out.String())
}

func TestEscaped(t *testing.T) {
	for _, sentence := range []string{`the file "a b.jpg" is gone`, "größer als 3 %", "می\u200cخواهم 👩\u200d🔧"} {
		assert.Equal(t, sentence, Escaped(sentence))
	}
	assert.Equal(t, `unknown field "\x1b[2Jred" in line 3`, Escaped("unknown field \"\x1b[2Jred\" in line 3"))
	assert.Equal(t, `a\x9b2Jb\xff\u202egpj`, Escaped("a\x9b2Jb\xff\u202egpj"), "no text in UTF-8, and backwards")
	assert.Equal(t, `\u009b2J`, Escaped("\u009b2J"), "a control sequence of one letter")
	assert.Equal(t, `two\nlines`, Escaped("two\nlines"))
}

func TestPrintable(t *testing.T) {
	for _, name := range []string{"port 1.jpg", "می\u200cروم.jpg", "вентиль.jpg", "弁.jpg", "\U0001F527.jpg", "-dash.jpg", "\U0001F468\u200d\U0001F527.jpg"} {
		assert.Equal(t, name, Printable(name))
	}
	assert.Equal(t, `"two\nlines.jpg"`, Printable("two\nlines.jpg"))
	assert.Equal(t, `"\x1b[31mred.jpg"`, Printable("\x1b[31mred.jpg"))
	assert.Equal(t, `"a\x9b2Jb\xff"`, Printable("a\x9b2Jb\xff"), "no text in UTF-8")
	assert.Equal(t, `"\u202egpj.exe"`, Printable("\u202egpj.exe"), "a name must not run backwards")
}

func TestProgressKeepsQuietWhereItIsNoTerminal(t *testing.T) {
	var out bytes.Buffer
	p := NewProgress(&out, 500)
	p.Step()
	p.Close()
	assert.Empty(t, out.String())
}

// Where there is no room for the column of outlines, what a person did is a remark.
func TestNarrowTableTellsWhatWasDoneByHand(t *testing.T) {
	hand := region.ByHand
	photos := []score.Record{{Photo: "a.jpg", RegionSource: &hand}, {Photo: "b.jpg", Painted: new(measure.Rounded(0.25, 2))}, {Photo: "c.jpg"}}
	var out bytes.Buffer
	require.NoError(t, Table(&out, photos, "", 80))
	assert.Equal(t, `PHOTO  GRADE       0-4  DARK DEPOSIT  CLEANING  REMARKS
a.jpg  not graded       -             -         [1]
b.jpg  not graded       -             -         [2]
c.jpg  not graded       -             -

[1] outline set by hand: it is taken at its word
[2] painted by hand: the classes there are those that were painted
`, out.String())

	d, err := score.ReadDocument(strings.NewReader(saved))
	require.NoError(t, err)
	d.Photos[0].Painted = photos[1].Painted
	out.Reset()
	require.NoError(t, Table(&out, d.Photos[:1], "", 120))
	assert.Contains(t, out.String(), "93 %, painted", "the column of outlines says it")
	assert.NotContains(t, out.String(), "[1]")
}
