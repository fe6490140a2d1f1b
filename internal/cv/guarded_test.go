package cv

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"gocv.io/x/gocv"
)

// Every case below makes OpenCV throw or, for the zero matrix, would make it read address 0. Without the guard each ends
// the process; here each must be an error, and the process lives on to run the next.
func TestWhatOpenCVRefusesIsAnError(t *testing.T) {
	var zero gocv.Mat
	made := map[string]gocv.Mat{
		"empty":   gocv.NewMat(),
		"byte":    gocv.NewMatWithSize(8, 8, gocv.MatTypeCV8U),
		"small":   gocv.NewMatWithSize(3, 3, gocv.MatTypeCV8U),
		"colour":  gocv.NewMatWithSize(8, 8, gocv.MatTypeCV8UC3),
		"float":   gocv.NewMatWithSize(8, 8, gocv.MatTypeCV32F),
		"double":  gocv.NewMatWithSize(8, 8, gocv.MatTypeCV64F),
		"integer": gocv.NewMatWithSize(8, 8, gocv.MatTypeCV32S),
	}
	for _, m := range made {
		defer m.Close()
	}
	get := func(name string) *gocv.Mat {
		if name == "zero" {
			return &zero
		}
		m := made[name]
		return &m
	}
	out := gocv.NewMat()
	defer out.Close()
	anywhere := Affine{}
	type call func(m *gocv.Mat) error
	for name, c := range map[string]struct {
		call call
		bad  []string
	}{
		"components":              {func(m *gocv.Mat) error { _, err := components(m, &out); return err }, []string{"zero", "empty", "colour", "float"}},
		"components into nothing": {func(m *gocv.Mat) error { _, err := components(get("byte"), m); return err }, []string{"zero"}},
		"morph mask":              {func(m *gocv.Mat) error { return morph(m, gocv.MorphOpen, get("small"), &out) }, []string{"zero", "empty", "integer"}},
		"morph disc":              {func(m *gocv.Mat) error { return morph(get("byte"), gocv.MorphOpen, m, &out) }, []string{"zero", "float"}},
		"morph kind":              {func(m *gocv.Mat) error { return morph(m, 99, get("small"), &out) }, []string{"byte"}},
		"blur":                    {func(m *gocv.Mat) error { return gaussian(m, 1, &out) }, []string{"zero", "empty", "integer"}},
		"blur sigma":              {func(m *gocv.Mat) error { return gaussian(m, -1, &out) }, []string{"float"}},
		"distance":                {func(m *gocv.Mat) error { return distance(m, &out) }, []string{"zero", "empty", "colour", "float"}},
		"remap":                   {func(m *gocv.Mat) error { return remap(m, get("float"), get("float"), 0, &out) }, []string{"zero", "integer"}},
		"remap x":                 {func(m *gocv.Mat) error { return remap(get("float"), m, get("float"), 0, &out) }, []string{"zero", "empty", "small", "colour"}},
		"warp":                    {func(m *gocv.Mat) error { return warp(m, Identity, 4, 4, 0, &out) }, []string{"zero", "empty", "integer"}},
		"align still": {func(m *gocv.Mat) error {
			_, err := align(m, get("float"), get("empty"), Shift, 5, &anywhere)
			return err
		}, []string{"zero", "empty", "colour", "double", "byte"}},
		"align moved": {func(m *gocv.Mat) error {
			_, err := align(get("float"), m, get("empty"), Shift, 5, &anywhere)
			return err
		}, []string{"zero", "empty", "colour"}},
		"align mask": {func(m *gocv.Mat) error {
			_, err := align(get("float"), get("float"), m, Shift, 5, &anywhere)
			return err
		}, []string{"zero", "small", "float"}},
		"align motion": {func(m *gocv.Mat) error { _, err := align(m, m, get("empty"), 99, 5, &anywhere); return err }, []string{"float"}},
	} {
		for _, bad := range c.bad {
			t.Run(name+"/"+bad, func(t *testing.T) { assert.Error(t, c.call(get(bad))) })
		}
	}
}

func TestOpenCVRunsOnOneThread(t *testing.T) {
	assert.Equal(t, 1, threads())
}

func TestMessagesAreOneLineAndNameTheAction(t *testing.T) {
	empty, out := gocv.NewMat(), gocv.NewMat()
	defer empty.Close()
	defer out.Close()
	err := gaussian(&empty, 1, &out)
	assert.ErrorContains(t, err, "cv: blur: ")
	assert.NotContains(t, err.Error(), "\n")
}
