package terminal

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	require.NoError(t, Table(&out, d.Photos))
	assert.Equal(t, `PHOTO             GRADE       0-4    DARK DEPOSIT     INDEX (95 %)         CONFIDENCE  WHAT TO DO
port 1.jpg        3 crusted   ▁▁▁█▁  62 % (57 to 66)  52.1 (47.8 to 56.3)  93 %        plan a cleaning (due: 99 %)
p2.jpg            0 bare      ▅▄▁▁▁  -                1.9 (0.0 to 4.4)     -           nothing to do (99 %) [glare on the valve, later-code]
"bad\x1b[2J.jpg"  not graded         -                -                    -           out of focus

p2.jpg: 9 % is glare: tilt the tip
p2.jpg: look again
"bad\x1b[2J.jpg": wipe the lens
`, out.String())
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
	require.NoError(t, Table(&out, d.Photos))
	assert.Equal(t, `PHOTO         GRADE       0-4    DARK DEPOSIT     INDEX (95 %)         CONFIDENCE  WHAT TO DO
port.jpg 1/2  3 crusted   ▁▁▁█▁  62 % (57 to 66)  52.1 (47.8 to 56.3)  93 %        plan a cleaning (due: 99 %)
port.jpg 2/2  not graded         -                -                    -           out of focus
cyl1.jpg      not graded         -                -                    -           fewer valves than listed
cyl1.jpg      not graded         -                -                    -           fewer valves than listed

port.jpg 2/2: wipe the lens
cyl1.jpg: retake it
`, out.String())
}

func TestNothingToShowPrintsNothing(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, Table(&out, nil))
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
