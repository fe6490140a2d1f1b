package terminal

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/ratings"
	"valvegrade/pkg/agree"
)

func agreement(t *testing.T, list, reference string) string {
	t.Helper()
	read, err := ratings.Read("r.csv", strings.NewReader(list))
	require.NoError(t, err)
	a, err := agree.Analyse(read, reference)
	require.NoError(t, err)
	var out bytes.Buffer
	require.NoError(t, Agreement(&out, a, 80))
	return out.String()
}

func TestAgreementShowsThePairAndItsTable(t *testing.T) {
	assert.Equal(t, `photos: 2, raters: "A\x1b", program

"A\x1b" against program, photos: 2
  same grade           1 of 2, 50 % (9 to 91)
  within one grade     2 of 2, 100 % (34 to 100)
  beyond chance        0.67 (0.36 to 0.97) of 1 (kappa, quadratic weights)
  bias of the index    1.5 (-4.9 to 7.9) points
  limits of agreement  0.1 to 2.9 points
  concordance          0.99

  "A\x1b" \ program  0 bare  1 film  2 patchy  3 crusted  4 caked
  0 bare             .       .       .         .          .
  1 film             .       1       .         .          .
  2 patchy           .       .       .         .          .
  3 crusted          .       .       1         .          .
  4 caked            .       .       .         .          .

all raters together
  any two raters  SD 1.1 points, from 2 valves

"A\x1b and program have so few photos in common (2) that kappa and the limits of
    agreement mean little"
no valve was rated twice by one rater: repeatability is not known
`, agreement(t, "photo,rater,grade,index\na,A\x1b,3,41\nb,A\x1b,1,12\na,program,2,39\nb,program,1,11\n", "program"))
}

func TestAgreementShowsAllRatersTogetherAndRepeats(t *testing.T) {
	const list = "photo,rater,grade,index\na,A,3,41\nb,A,1,12\nb,A,1,16\na,B,2,39\nb,B,1,11\na,C,3,42\nb,C,0,1\n"
	text := agreement(t, list, "")
	assert.Contains(t, text, "\nall raters together\n  beyond chance           0.08 ")
	assert.Contains(t, text, "  intraclass correlation  0.94 (")
	// One valve rated twice, 4 points apart: sqrt(4^2 / 2), and 1.96 sqrt(2) times that.
	assert.Contains(t, text, "\nA               2.8 (1.3 to 90.3) points  7.8         1\n")
	assert.Regexp(t, `(?m)^  any two raters          SD \d+\.\d points, from 2 valves$`, text)
	assert.Regexp(t, `(?m)^  between raters          SD \d+\.\d points \(1 valve rated again\)$`, text)
	assert.Contains(t, text, "\nA rated b 2 times, grades 1, 1: ")
}

func TestWhatIsNotDeterminedIsADash(t *testing.T) {
	text := agreement(t, "photo,rater,grade\na,A,3\nb,A,3\na,B,3\nb,B,3\n", "")
	assert.Contains(t, text, "  beyond chance     - of 1 (kappa, quadratic weights)\n")
	assert.NotContains(t, text, "NaN")
}
