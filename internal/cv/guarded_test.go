package cv

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"gocv.io/x/gocv"
)

// Every case below makes OpenCV throw or, for the zero matrix, would make it read address 0. Without the guard each
// ends the process; here each must be an error, and the process lives on to run the next.
func TestWhatOpenCVRefusesIsAnError(t *testing.T) {
	var zero gocv.Mat
	empty := gocv.NewMat()
	defer empty.Close()
	integer := gocv.NewMatWithSize(8, 8, gocv.MatTypeCV32S)
	defer integer.Close()
	float := gocv.NewMatWithSize(8, 8, gocv.MatTypeCV32F)
	defer float.Close()
	out := gocv.NewMat()
	defer out.Close()
	for name, m := range map[string]*gocv.Mat{"zero": &zero, "empty": &empty, "integer": &integer} {
		t.Run(name, func(t *testing.T) { assert.Error(t, gaussian(m, 1, &out)) })
	}
	t.Run("sigma", func(t *testing.T) { assert.Error(t, gaussian(&float, -1, &out)) })
	t.Run("no result", func(t *testing.T) { assert.Error(t, gaussian(&float, 1, &zero)) })
	for name, m := range map[string]*gocv.Mat{"shrink zero": &zero, "shrink empty": &empty, "shrink integer": &integer} {
		t.Run(name, func(t *testing.T) { assert.Error(t, shrink(m, 4, 4, &out)) })
	}
	t.Run("shrink to nothing", func(t *testing.T) { assert.Error(t, shrink(&float, 0, 4, &out)) })
	t.Run("shrink without result", func(t *testing.T) { assert.Error(t, shrink(&float, 4, 4, &zero)) })
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
