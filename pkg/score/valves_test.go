package score

import (
	"bytes"
	"encoding/json"
	"errors"
	"image"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/deposit"
	"valvegrade/pkg/photo"
	"valvegrade/pkg/reason"
	"valvegrade/pkg/region"
)

// splitting finds the valve of a photo as if it were two: what lies left and right of a line, with the evidence of the
// whole.
type splitting struct {
	*region.Finder
	at int
}

func (s splitting) Find(p *photo.Photo, marks *region.Marks) ([]*region.Region, error) {
	found, err := s.Finder.Find(p, marks)
	if err != nil {
		return nil, err
	}
	var halves []*region.Region
	for _, box := range []image.Rectangle{{Max: image.Pt(s.at, p.Height)}, {Min: image.Pt(s.at, 0), Max: image.Pt(p.Width, p.Height)}} {
		half := *found[0]
		half.Mask, half.HeadPixels, half.StemPixels = image.NewGray(found[0].Mask.Rect), 0, 0
		for i, label := range found[0].Mask.Pix {
			if !image.Pt(i%p.Width, i/p.Width).In(box) {
				continue
			}
			switch half.Mask.Pix[i] = label; label {
			case region.Head:
				half.HeadPixels++
			case region.Stem:
				half.StemPixels++
			}
		}
		halves = append(halves, &half)
	}
	return halves, nil
}

// halves scores the demo photo as one of two valves, of which the left one is the smaller.
func halves(t *testing.T) []*Result {
	t.Helper()
	s := newScorer(t, Options{})
	s.finder = splitting{s.finder.(*region.Finder), 320}
	valves := s.Score(demoPhoto)
	require.Len(t, valves, 2)
	for _, r := range valves {
		require.Equal(t, Scored, r.Status, r.Reasons)
	}
	return valves
}

func TestEachValveOfAPhotoHasItsResult(t *testing.T) {
	valves := halves(t)
	whole := only(t, newScorer(t, Options{}).Score(demoPhoto))
	pixels := 0
	for n, r := range valves {
		assert.Equal(t, []int{n + 1, 2}, []int{r.Valve, r.Valves})
		assert.Equal(
			t,
			[]string{whole.Name, whole.Label, whole.SHA256, whole.Version},
			[]string{r.Name, r.Label, r.SHA256, r.Version},
		)
		assert.Equal(t, r.pixels(), r.Deposit.Both.Pixels)
		pixels += r.Deposit.Both.Pixels
	}
	assert.Equal(t, whole.Deposit.Both.Pixels, pixels)
	assert.Less(t, valves[0].Region.Bounds().Min.X, valves[1].Region.Bounds().Min.X, "from left to right")

	text := written(t, document(valves...))
	assert.NoError(t, validate(t, text))
	assert.Contains(t, string(text), `"valve_in_photo": 2,`+"\n      "+`"valves_in_photo": 2`)
	d, err := ReadDocument(bytes.NewReader(text))
	require.NoError(t, err)
	assert.Equal(t, string(text), string(written(t, d)))
}

// Anyone can count each valve's index in the masks, by the order of their sizes.
func TestMasksHoldAllValves(t *testing.T) {
	valves := halves(t)
	dir := t.TempDir()
	require.NoError(t, WriteMasks(dir, valves))
	regions, err := ReadMask(dir + "/" + valves[0].Label + RegionSuffix)
	require.NoError(t, err)
	classes, err := ReadMask(dir + "/" + valves[0].Label + DepositSuffix)
	require.NoError(t, err)

	bySize := []*Result{Largest(valves), valves[0]}
	if bySize[0] == valves[0] {
		bySize[1] = valves[1]
	}
	for place, r := range bySize {
		var labels, counts [256]int
		for i, label := range regions.Pix {
			labels[label]++
			if int(label) == 2*place+1 || int(label) == 2*place+2 {
				counts[classes.Pix[i]]++
			} else if label == region.Background && classes.Pix[i] != deposit.NotValve {
				t.Fatalf("pixel %d has a class and no valve", i)
			}
		}
		assert.Equal(t, r.Region.HeadPixels, labels[2*place+1])
		assert.Equal(t, r.Region.StemPixels, labels[2*place+2])
		readable := counts[deposit.Bare] + counts[deposit.Film] + counts[deposit.Medium] + counts[deposit.Heavy]
		sum := float64(counts[deposit.Heavy]) + 0.5*float64(counts[deposit.Medium]) + 0.25*float64(counts[deposit.Film])
		assert.InDelta(t, 100*sum/float64(readable), r.Record().Index.Value(), 0.005) // half of the last decimal
	}
}

func TestStagesShowAllValves(t *testing.T) {
	valves := halves(t)
	stages := Stages(valves)
	require.Len(t, stages, len(StageNames()))
	region, light := stages[1].Picture.(*image.NRGBA), stages[3].Picture.Bounds()
	untinted := painted(valves[0].Photo.Pixels, image.NewGray(region.Rect), regionColour)
	for _, r := range valves {
		at := r.Region.Bounds()
		assert.NotEqual(t, cut(untinted, at), cut(region, at), "valve %d", r.Valve)
	}
	widest := 0
	for _, r := range valves {
		widest = max(widest, deposit.EvenedLight(r.Photo, r.Deposit).Rect.Dx())
	}
	assert.Greater(t, light.Dx(), widest, "valve beside valve")
}

// cut returns the pixels of a box.
func cut(picture *image.NRGBA, box image.Rectangle) (pixels []uint8) {
	for y := box.Min.Y; y < box.Max.Y; y++ {
		pixels = append(pixels, picture.Pix[picture.PixOffset(box.Min.X, y):picture.PixOffset(box.Max.X, y)]...)
	}
	return pixels
}

// small returns a scored valve of so many pixels at a place in its photo, refused where it is not good.
func small(place, pixels int, good bool) *Result {
	r := scored()
	r.Valve, r.Valves = place, 2
	r.Region.HeadPixels, r.Region.StemPixels = pixels, 0
	if !good {
		r.refuse(reason.Of(reason.Blurred))
		r.Grade = nil
	}
	return r
}

func TestValvesKeepTheirPlacesWhereOneIsJudged(t *testing.T) {
	left, right := small(1, 500, false), small(2, 300, true)
	valves := judged([]*Result{left, right})
	assert.Equal(t, []*Result{left, right}, valves)
	assert.Equal(t, []int{2, 2}, []int{right.Valve, right.Valves})
	assert.Same(t, right.Region.Mask, RegionMask(valves), "masks show what was scored")
	assert.NoError(t, validate(t, written(t, document(valves...))))
}

func TestPhotoWithoutAJudgedValveIsOneRefusal(t *testing.T) {
	r := only(t, judged([]*Result{small(1, 300, false), small(2, 500, false)}))
	assert.Equal(t, 500, r.pixels(), "the largest speaks for the photo")
	assert.Equal(t, []int{1, 1}, []int{r.Valve, r.Valves})
	assert.Nil(t, RegionMask([]*Result{r}))
}

// queued returns the queue of a batch that is done, with the valves of each photo; one that has none was aborted.
func queued(photos ...[]*Result) <-chan job {
	queue := make(chan job, len(photos))
	for _, valves := range photos {
		j := job{done: make(chan []*Result, 1)}
		if valves == nil {
			close(j.done)
		} else {
			j.done <- valves
		}
		queue <- j
	}
	close(queue)
	return queue
}

func TestBatchHandsOverEveryValve(t *testing.T) {
	var places []int
	each := func(r *Result) error { places = append(places, r.Valve); return nil }
	handOver(queued([]*Result{small(1, 3, true), small(2, 4, true)}, nil, []*Result{refused()}), each, nil)
	assert.Equal(t, []int{1, 2, 1}, places)
}

func TestBatchStopsBetweenTheValvesOfAPhoto(t *testing.T) {
	valves, calls, stopped := []*Result{small(1, 3, true), small(2, 4, true)}, 0, 0
	each := func(*Result) error { calls++; return errors.New("full") }
	handOver(queued(valves, valves), each, func(error) { stopped++ })
	assert.Equal(t, []int{1, 1}, []int{calls, stopped}, "nothing is handed on after an error")
	assert.Nil(t, valves[1].Photo, "what was not handed on is let go, too")
}

// Documents of earlier versions knew one valve in each photo.
func TestRecordsWithoutAPlaceStandAlone(t *testing.T) {
	text := string(written(t, document(scored(), refused())))
	old := regexp.MustCompile(`\s*"valves?_in_photo": \d+,`).ReplaceAllString(text, "")
	require.NotContains(t, old, "in_photo")
	d, err := ReadDocument(strings.NewReader(old))
	require.NoError(t, err)
	assert.Equal(t, text, string(written(t, d)))

	for _, wrong := range []string{`"valve_in_photo": 2`, `"valve_in_photo": 0`, `"valve_in_photo": -1`} {
		_, err := ReadDocument(strings.NewReader(strings.Replace(text, `"valve_in_photo": 1`, wrong, 1)))
		assert.ErrorIs(t, err, ErrDocument, wrong)
		assert.ErrorContains(t, err, "in the photo")
	}
}

func TestPerPhotoGroupsValves(t *testing.T) {
	var valves []Record
	require.NoError(t, json.Unmarshal([]byte(`[{"photo": "a", "valve_in_photo": 1}, {"photo": "a", "valve_in_photo": 2},
		{"photo": "b", "valve_in_photo": 1}, {"photo": "c", "valve_in_photo": 1}, {"photo": "c", "valve_in_photo": 2}]`), &valves))
	var sizes []int
	for _, photo := range PerPhoto(valves) {
		sizes = append(sizes, len(photo))
		for _, r := range photo {
			assert.Equal(t, photo[0].Photo, r.Photo)
		}
	}
	assert.Equal(t, []int{2, 1, 2}, sizes)
	assert.Empty(t, PerPhoto(nil))
}

func TestVersionNamesTheNets(t *testing.T) {
	assert.NotEqual(t, Options{}.Version(), Options{Program: "2"}.Version())
	broken := Options{Program: "1", Nets: [][]byte{[]byte("no net")}}
	assert.Equal(t, "1+net.unusable", broken.Version())
	_, err := New(broken)
	assert.ErrorContains(t, err, "net")
}
