package ratings_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/limit"
	"valvegrade/internal/ratings"
	"valvegrade/pkg/agree"
)

func TestReadTakesColumnsInAnyOrder(t *testing.T) {
	list, err := ratings.Read(
		"r.csv",
		strings.NewReader("\uFEFFGrade, Photo, Index\r\n3, c1v1.jpg, 52.5\r\n0, c1v2.jpg,\r\n"),
	)
	require.NoError(t, err)
	require.Len(t, list, 2)
	assert.Equal(
		t,
		agree.Rating{Photo: "c1v1.jpg", Rater: ratings.DefaultRater, Valve: "c1v1.jpg", Grade: 3, Index: 52.5},
		list[0],
	)
	assert.True(t, math.IsNaN(list[1].Index), "an empty index is not 0")
}

func TestReadTakesTheValveInThePhoto(t *testing.T) {
	list, err := ratings.Read(
		"r.csv",
		strings.NewReader("photo,valve_in_photo,grade\nport.jpg,2,3\nport.jpg,1,0\nc1v1.jpg,,4\n"),
	)
	require.NoError(t, err)
	for n, want := range []agree.Rating{
		{Photo: "port.jpg", ValveInPhoto: 2, Valve: "port.jpg valve 2", Grade: 3},
		{Photo: "port.jpg", ValveInPhoto: 1, Valve: "port.jpg valve 1", Grade: 0},
		{Photo: "c1v1.jpg", Valve: "c1v1.jpg", Grade: 4},
	} {
		assert.Equal(
			t,
			[3]any{want.Photo, want.ValveInPhoto, want.Valve},
			[3]any{list[n].Photo, list[n].ValveInPhoto, list[n].Valve},
		)
	}
	assert.Equal(t, []string{"port.jpg", "c1v1.jpg"}, agree.Photos(list))
	assert.Equal(t, []string{"port.jpg valve 2", "port.jpg valve 1", "c1v1.jpg"}, agree.Items(list))
}

func TestReadTakesASpreadsheetsOwnSeparators(t *testing.T) {
	for _, text := range []string{"photo;grade;index\na;3;52,5\n", "photo\tgrade\tindex\na\t3\t52,5\n", "photo,grade,index\na,3,\"52.5\"\n"} {
		list, err := ratings.Read("r.csv", strings.NewReader(text))
		require.NoError(t, err, text)
		assert.Equal(
			t,
			[]agree.Rating{{Photo: "a", Rater: ratings.DefaultRater, Valve: "a", Grade: 3, Index: 52.5}},
			list,
			text,
		)
	}
}

func TestReadNamesTheLine(t *testing.T) {
	for _, row := range []struct{ text, want string }{
		{"", "r.csv: empty"},
		{"photo,grade\n", "r.csv: no ratings"},
		{"photo,rater\na,b\n", "r.csv:1: columns photo and grade"},
		{"photo,grade,grade\na,1,1\n", `r.csv:1: column "grade" stands twice`},
		{"photo,grade,remark\na,1,x\n", `r.csv:1: unknown column "remark"`},
		{"photo,grade\na,1\nb,5\n", `r.csv:3: grade "5"`},
		{"photo,grade\na,2.5\n", `r.csv:2: grade "2.5"`},
		{"photo,grade,index\na,1,101\n", `r.csv:2: index "101"`},
		{"photo,grade,index\na,1,NaN\n", `r.csv:2: index "NaN"`},
		{"photo,grade\na,\n", "r.csv:2: grade is empty"},
		{"photo,grade,index\na,1,\"52,5\"\n", `r.csv:2: index "52,5"`},
		{"photo,grade\nJ\xf6rg,1\n", "r.csv: not a text in UTF-8"},
		{"photo,grade\n" + strings.Repeat("a,1\n", 5<<20), "r.csv: larger than 8 MiB"},
		{"photo,grade\n" + strings.Repeat("a,1\n", limit.Ratings+1), "r.csv: more than 100000 ratings"},
		{"photo,grade" + strings.Repeat(",", 6*limit.Ratings+1), "r.csv: more commas than 100000 ratings have"},
		{"photo,rater,grade\n" + manyRaters(limit.Raters+1), "r.csv: 41 raters, the limit is 40"},
		{"photo,grade\n,1\n", "r.csv:2: photo is empty"},
		{"photo,valve_in_photo,grade\na,left,1\n", `r.csv:2: valve_in_photo "left" is not a whole number from 1`},
		{"photo,valve_in_photo,grade\na,0,1\n", `r.csv:2: valve_in_photo "0"`},
		{"photo,rater,grade\na,,1\n", "r.csv:2: rater is empty"},
		{"photo,grade\na,1\nb,1,7\n", "r.csv:3: more or fewer columns than in the first line"},
		{"photo,grade\na,\"1\nb,2\n", "r.csv:3: a quotation mark is missing"},
		{"photo,\"gra\"de\na,1\n", "r.csv:1: a quotation mark is missing or stands where none may"},
	} {
		_, err := ratings.Read("r.csv", strings.NewReader(row.text))
		assert.ErrorContains(t, err, row.want, "%.60q", row.text)
	}
}

func manyRaters(n int) string {
	var text strings.Builder
	for rater := range n {
		fmt.Fprintf(&text, "a,Ann %d,1\n", rater)
	}
	return text.String()
}

func TestReadCollectsSoManyFaults(t *testing.T) {
	_, err := ratings.Read("r.csv", strings.NewReader("photo,grade\n"+strings.Repeat("a,9\n", limit.Ratings)))
	var faults ratings.ListError
	require.ErrorAs(t, err, &faults)
	assert.Len(t, faults, limit.Faults)
}

func TestReadReportsAllFaultyLines(t *testing.T) {
	_, err := ratings.Read("r.csv", strings.NewReader("photo,grade\na,9\nb,1\nc,x\n"))
	assert.ErrorContains(t, err, "r.csv:2: ")
	assert.ErrorContains(t, err, "r.csv:4: ")
}

func FuzzRead(f *testing.F) {
	f.Add("photo,rater,grade,index\na,b,1,2\n")
	f.Add("photo;grade\n\"a\nb\";0\n")
	f.Fuzz(func(t *testing.T, text string) {
		list, err := ratings.Read("r.csv", strings.NewReader(text))
		if err != nil {
			return
		}
		_, err = agree.Analyse(list, "")
		assert.NoError(t, err, "what Read lets through can be analysed")
	})
}
